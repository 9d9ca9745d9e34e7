// Package spell finds the name that was probably meant by a misspelt one.
//
// Start from [Nearest]. How far two names may differ depends on their length:
// a short name suggests little. Case and hyphens don't count. The answer is a
// function of the name and the candidates alone, in whatever order they come.
// [Name] makes a name of words.
package spell
