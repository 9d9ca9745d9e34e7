// Package fitview shows what readings are worth: as text for a person at the
// bench, and as data.
//
// Start from [WriteText] and [WriteJSON], which take a [fit.Report]. The text is
// in the unit of each notebook's file and at most 80 columns wide, except where
// a name is longer; the data is in millimetres and in full precision. Both are
// pure functions of the report. The package decides what is worth saying, and
// must never work anything out that a report doesn't hold.
package fitview
