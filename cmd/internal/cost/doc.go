// Package cost tells how long the files of a cover take and what it costs.
//
// Start from [Of]. Money is in whole cents, rounded so that what a total is made of adds up
// to it ([Cents]). What the maker hasn't stated of it is named; then there is no total.
//
// The package never makes up a speed or a price, and prints nothing.
package cost
