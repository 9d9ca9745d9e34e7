// Package caliper says how surely a tool has read what it read.
//
// Start from [Tool]. Lengths are in mm (angles in degrees). The package is
// arithmetic: it knows no text and no design.
package caliper
