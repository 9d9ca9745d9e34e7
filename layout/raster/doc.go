// Package raster reads PNG and JPEG pictures and makes them ready to be
// engraved line by line.
//
// Start from [Decode], then [Photo.Engrave]. A [Photo] is grey levels, dark is
// 0; what is transparent shows white, and stays so in any [Tone]. An [Image] is a grid of dots as far
// apart as the lines that the laser engraves, dark dots engraved.
//
// Everything is in whole numbers or in a fixed order, so the same picture gives
// the same dots each time. [MaxPixels] bounds what is decoded, before it is.
// The package must never read a file itself or panic.
package raster
