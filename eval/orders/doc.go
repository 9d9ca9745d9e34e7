// Package orders reads tables of customers' orders: comma-, semicolon- or
// tab-separated text with a header.
//
// Start from [Read], which gives a [Table]. The table's text is a
// [source.File], so that each wrong cell is named by its line and column.
//
// A row that can't be used is kept with what is wrong with it ([Row.Problems])
// and never hides the others. Lengths are in mm and angles in degrees.
// [FileName] makes names of files that no order's text can lead astray, and
// [Odd] finds what in a text its customer can hardly have written.
//
// The package reads no file itself: bytes come in. It changes no text but by [Clean],
// where the design says so, and a [Cell] then says what it was.
package orders
