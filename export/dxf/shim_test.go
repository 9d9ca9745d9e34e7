package dxf

// Standard lets the tests outside see a standard colour.
func Standard(n int) (r, g, b uint8) {
	c := standard(n)
	return c.R, c.G, c.B
}
