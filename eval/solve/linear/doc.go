// Package linear solves sparse systems of linear equations that may leave
// something open or contradict each other.
//
// Start from [Eliminate]: it gives every column by those that no equation
// decides, the parameters, and the rows that came to nothing. [Space] holds
// forms in such parameters while one after another is fixed; where limits allow a point
// it tells by moving few of them how near to 0 a form can come ([Space.Slide]) and how
// low ([Space.Least]).
//
// No row is lost: an [Elimination] tells from which rows a row was made and
// which together give a column. A pivot is never so small beside its row that
// digits are lost while a better one is left.
package linear
