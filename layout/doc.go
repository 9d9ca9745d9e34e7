// Package layout turns a solved design into a drawing: parts, operations and
// shapes in millimetres.
//
// Start from [Drawing]. Figures are in millimetres, X to the right and Y down
// from the left upper corner; a figure is drawn as wanted until kerf and axis
// scale are applied.
//
// The package never writes a file and never changes a solution.
package layout
