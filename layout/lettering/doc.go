// Package lettering turns text into outlines in millimetres: letters whose
// capitals have the height asked for, kerned, overlaps united, fitted into a
// box.
//
// Start from [Load] (a built-in font) or [Parse] (a maker's own), then
// [Font.Text] for one line or [Fit] for a region. Outlines have Y down and the
// baseline at Y = 0; material runs clockwise as seen, counters the other way;
// no two paths cross. The same text gives the same outline each time.
//
// A character that a font lacks, or that no laser can draw, is an error: it is
// never drawn as a box or left out. Fonts are read when first used, never at the
// program's start. Only shaper.go knows the libraries that read and shape fonts.
package lettering
