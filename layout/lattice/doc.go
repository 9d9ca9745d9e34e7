// Package lattice is the plan of a lattice: where the slots of a field of cuts
// lie that lets a board bend.
//
// Start from [Field]. Its X runs across the bend and its Y along it, from the
// field's left upper corner. Columns of slots stand on both sides of each link;
// neighbouring columns are staggered by half, so that each link is held by a
// bridge to one neighbour at one end and to the other neighbour at the other
// end, and twists between them. Nothing ever falls out: every column holds a
// bridge.
//
// The package knows nothing of panels, kerf and files.
package lattice
