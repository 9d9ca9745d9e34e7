package layout

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"hash"
	"math"

	"foredge/layout/geom"
)

// Sum is a sum of what a drawing and its inner faces make of the material, whatever sheets it lies
// on: two have the same if their parts are cut, engraved and marked alike, to a tenth of a
// micrometre, and from the same.
func Sum(d *Drawing, faces []Face) string {
	s := summing{Hash: sha256.New()}
	s.parts(d)
	for _, f := range faces {
		s.parts(f.Drawing)
	}
	return hex.EncodeToString(s.Hash.Sum(nil)[:8])
}

type summing struct {
	hash.Hash
	bytes []byte
}

func (s *summing) parts(d *Drawing) {
	for _, p := range d.Parts {
		thick, material := p.Thick, ""
		if p.Of != nil {
			thick, material = p.Of.Thick, p.Of.Material.Name
		}
		fmt.Fprintln(s, p.Name, p.Stock, material, thick.Or(0), p.Grain, p.Copies)
		for _, r := range p.Recesses {
			fmt.Fprintln(s, r.Name, r.Depth, r.Inside)
		}
		for i := range p.Shapes {
			s.shape(&p.Shapes[i])
		}
	}
}

func (s *summing) shape(sh *Shape) {
	s.bytes = append(s.bytes[:0], byte(sh.Op))
	for _, p := range geom.Paths(sh.Figure) {
		s.point(p.Start)
		for _, seg := range p.Segments {
			s.bytes = append(s.bytes, byte(seg.Kind))
			s.point(seg.End)
			switch seg.Kind {
			case geom.ArcTo:
				turn := byte(0)
				if seg.Clockwise {
					turn = 1
				}
				s.point(seg.Center)
				s.bytes = append(s.bytes, turn)
			case geom.CubicTo:
				s.point(seg.C1)
				s.point(seg.C2)
			}
		}
	}
	s.Write(s.bytes)
	if sh.Raster != nil {
		fmt.Fprintln(s, sh.Raster.W, sh.Raster.H)
		s.Write(sh.Raster.Grey)
	}
}

func (s *summing) point(p geom.Point) {
	for _, v := range [2]float64{p.X, p.Y} {
		s.bytes = binary.LittleEndian.AppendUint64(s.bytes, uint64(int64(math.Round(v*1e4))))
	}
}
