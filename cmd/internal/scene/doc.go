// Package scene is what a page shows of a solved design, as data: its drawings,
// where on them each dimension and each reading lies, all values, and what is
// wrong, each with its place in the text.
//
// Start from [Of]. A [View] is one drawing as a page shows it: the outer faces of
// all parts, or the inner face of a panel. Sheets with parts nested on them and
// finished pictures will be views of kinds of their own; a page shows the views of
// a scene one at a time and needs to know no more of a kind than its name.
//
// Figures are as wanted, before kerf, in millimetres from the left upper corner of
// their view. The package draws nothing of its own, and reads neither clock nor files.
package scene
