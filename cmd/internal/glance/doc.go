// Package glance shows what a maker reads first of a solved design: how large each
// board is, where its row of holes lies, what is left over beside what stands on
// it, and what the readings mean for how it fits. Start from [Write].
//
// It works nothing out, and reads neither clock nor files.
package glance
