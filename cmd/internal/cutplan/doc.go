// Package cutplan shows what lies on which sheet, whom it is for, how long the laser takes
// over it and what that costs: as a page for whoever cuts it, and as data.
//
// Start from [Plan]: state its lots, then [Plan.Add] what was laid of them, once or several
// times. Money is in whole cents, rounded for each cover, and what is above a cover is a sum
// of these: so covers, orders and the whole add up to the cent, and so do the sheets in what
// the laser and wood are charged with; of all that is laid at once the sheets and the stocks have
// their own shares of that to within a cent ([cost.Apportion]).
//
// The package lays nothing, makes up no speed or price, and writes no file.
package cutplan
