// Package fit says what a notebook's readings are worth: how well they agree,
// what each is after they were reconciled, which to take next, and how surely
// every hole of a cover clears the wire.
//
// Start from [Of]: it takes a solved design and returns a [Report]. The report
// is plain data; lengths are in millimetres, uncertainties are standard ones
// unless a name says 95, and what is not known is absent. Of works on a design
// with errors too, as far as it was solved: contradictory readings are when it
// is wanted most.
//
// # How surely the holes clear
//
// The cover lies with its starting edge and the row's own edge flush as it was
// designed. Hole k of a row (from 0) is then off its wire, along the row, by the
// error of first + hole.along/2 and k times the error of pitch, and across it by
// the error of inset + hole.across/2. All come from the readings; their
// covariance is that of the solution, so what one reading does wrong it does
// wrong for every hole. An opening is cut as designed but for the error of the
// kerf, where the kerf's is stated. The wire passes if its round section, of the
// stated thickness, lies inside the opening: for a rect, if it is off by no more
// than (opening - wire)/2 along and across. What other forms take away from that
// they say themselves (package opening).
//
// Along the row the deviation is a straight line in k, so that the two end
// holes decide and the probability is that of a bivariate normal rectangle
// (normal.go), averaged over the deviation across and over what the uncertainty
// of wire and kerf does to the room (deviation.go). A row of unequal gaps has no such line: all
// its holes are simulated (simulate.go), and the report says by how much chance
// may be off.
//
// Not in the model: boards that bend, a cover laid askew, and how far a ring's
// curve reaches within a thick board: [Turn] tells of that, by package wire.
//
// The package must never print, nor know how a report is shown.
package fit
