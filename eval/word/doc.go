// Package word holds the words among which a maker may choose, each list as an
// enumeration: edges, corners, faces, operations, ways to fit and to align.
//
// Start from the type of the choice. The zero value of each says that nothing
// was chosen; it has no word. Words never change their meaning. The package is
// data: it decides nothing.
package word
