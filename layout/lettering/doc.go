// Package lettering turns text into outlines in millimetres: letters whose
// capitals have the height asked for, kerned, in the order in which their
// scripts run, overlaps united, fitted into a box, in lines or along a circle.
//
// Start from [Load] (a built-in font) or [Parse] (a maker's own), then
// [Font.Text] for one line or [Fit] for a region; [Stencil] gives bridges to
// letters that are cut through. Outlines have Y down and the baseline at Y = 0;
// material runs clockwise as seen, counters the other way; no two paths cross.
// Those of a single-line font ([Font.Single]) are open paths, to be marked and
// not filled. The same text gives the same outline each time, whatever language
// the machine speaks.
//
// A character that a font lacks, or that no laser can draw, is an error: it is
// never drawn as a box or left out. Fonts are read when first used, never at the
// program's start. Only shaper.go and bidi.go know the libraries that read and
// shape fonts. The data of the stroke fonts is passed on with its
// [Acknowledgement], and never in the format of the U.S. NTIS.
package lettering
