// Package evaltest takes a text through all stages up to its solution, for
// tests of the packages that work with one.
//
// Start from [Sound] for a design that must have no errors, or from [Solve].
// The text stands alone unless [Files] are given to it, or [Shelved] for the
// shelf. [RightDesign] makes random designs without a mistake. No program may import the package.
package evaltest
