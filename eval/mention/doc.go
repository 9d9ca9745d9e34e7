// Package mention says of each name in a design's text what it stands for there, and
// where else that is spoken of: what an editor needs to jump, to rename and to explain.
//
// Start from [Of], whose [Index] answers for a place ([Index.At]) and for what is
// meant ([Index.All]). It knows what package resolve knows: a name that means nothing
// has no mention, and nothing is computed.
package mention
