// Package art reads artwork: drawings in SVG become outlines to fill and lines
// to run along, in millimetres at the size that the file states.
//
// Start from [Parse]. A [Picture] has one ink. What the file fills with any
// colour but white is inked, white takes away what lies under it, and strokes
// become their centre lines; a white stroke draws nothing. Shades, opacity
// above 0 and the widths of strokes are not kept. The filled area comes as
// outlines that cross nowhere, material clockwise, so that the non-zero rule
// fills them, whatever rule the file asked for.
//
// Files are taken to be hostile: no entities, nothing from outside the file,
// and [MaxBytes], [MaxDepth], [MaxElements], [MaxSegments] bound what is read.
// What can't be drawn is an [Error] with the line of its element, never left
// out in silence. The package must never read a file itself, panic or hang.
package art
