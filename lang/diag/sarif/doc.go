// Package sarif writes diagnostics in the form that code hosts show beside the lines
// they speak of: Static Analysis Results Interchange Format (SARIF) 2.1.0, OASIS
// Standard, 27 March 2020.
//
// Start from [Write]. It writes the little of the standard that there is something to
// say for: no key is there without a value.
package sarif
