// Package png draws a picture of a drawing, to look at and to send to a
// customer. It is no cut file: lines are drawn thick enough to be seen.
//
// Start from [Encoder]. The picture has the drawing's own colours on white. It
// is the only place where the canvas library rasterises, and nothing of that
// library leaves it.
package png
