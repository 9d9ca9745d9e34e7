// Package numeral is the grammar of numbers: how they are written, how large
// they may be, and what to say of one that is wrong.
//
// Start from [Read] for the number at a place of a design, and from [Value]
// for a text that is one number and nothing else: a cell of a table of orders
// or the value of a command-line option.
//
//	number   = decimal [ unit ] | ( fraction | whole gap fraction ) [ "in" ] .
//	decimal  = whole [ "." whole ] | "." whole .
//	fraction = whole "/" whole .
//	whole    = digit { digit } .
//
// A fraction is what an inch rule shows. There is one only with in behind it, or
// without a unit where a bare length is in inches: elsewhere A/B is a quotient,
// and a whole number with a fraction is an error.
//
// The units are those of package unit. There are no powers of ten, no marks
// between thousands, and no sign: a minus belongs to the sum around a number.
//
// # Where a design and a lone text differ
//
// Beside a number of a design stands a sum, whose signs it must leave alone;
// a lone text comes from a spreadsheet or a shell. So these are read otherwise:
//
//	             in a design                   alone
//	3-1/4        3 minus 1/4                   3 1/4
//	1,5          an error, see [Glued]         see [ValueWithComma]
//	gap          any blanks                    one blank or one hyphen
//	5.           digits are missing            5
//	largest      [Largest], each number in it  [LargestAlone], the value
//	A/B in       B from 1 to [Finest]          any B, if the value is a number
//	A / B        A divided by B                no number
//	A/B mm       A divided by B mm             no number
//	unit         package parse takes the word  the rest of the text, with or
//	             that follows, or the sign %   without blanks before it
//
// Invariants: the same text gives the same number, wherever it is read at all;
// a number is finite and never below 0.
//
// The package knows nothing of files and lines: an [Error] speaks of bytes of
// the text that it was given.
package numeral
