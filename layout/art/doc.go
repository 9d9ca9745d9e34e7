// Package art reads artwork: drawings in SVG become outlines to fill and lines
// to run along, in millimetres at the size that the file states.
//
// Start from [Parse], or from [Options.Parse] for a drawing whose texts have a
// font, or whose colours and layers have operations of their own. Each operation
// has one ink. What the file fills with any colour but white is inked, white takes
// away what lies under it, its strokes too, where it lets no more than half through. A stroke becomes its centre line; on a
// fill of ink the two are one outline. Shades and opacity above 0 are not kept;
// where colours run into one another, a [Note] says so. The filled area comes as
// outlines that cross nowhere, material clockwise, so that the non-zero rule fills
// them, whatever rule the file asked for.
//
// A file goes through the files of this package in this order: doctype.go and
// xml.go make nodes of its text; sheet.go, selector.go and style.go say what
// styles set; walk.go goes through the nodes, with clip.go, marker.go, text.go,
// transform.go and animate.go for what some of them have; draw.go, stroke.go and
// dash.go make layers and lines; resolve.go, halves.go, arrange.go and cover.go
// outlines of what is seen, twice.go and shared.go lines that lie nowhere on one another.
//
// Files are taken to be hostile: entities only of plain texts of the file itself,
// nothing from outside of it, and [MaxBytes], [MaxDepth], [MaxElements],
// [MaxSegments] bound what is read. What would change what is seen and can't be
// drawn is an [Error] with the line of its element, never left out in silence. The
// package must never read a file itself, panic or hang.
package art
