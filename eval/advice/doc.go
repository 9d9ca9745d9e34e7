// Package advice warns of what an old hand would stop before anything is drawn:
// covers that their wire doesn't suit, and openings that a sheet within its
// tolerance doesn't fit.
//
// Start from [Of], which must only be asked of a design without errors. What
// needs a drawing to be seen is told in layout.
package advice
