package lettering

// CapShare is how high the font's capitals are as a share of its em, which is
// what other programs call its size.
func (f *Font) CapShare() float64 { return f.cap / f.face.unitsPerEm() }
