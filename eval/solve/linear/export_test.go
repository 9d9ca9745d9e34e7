package linear

import "slices"

// Row lists the limits in a row that keep a parameter from going farther up, or down,
// as they were found last.
func (s *Space) Row(param int32, up bool) []int32 {
	var row []int32
	todo := []side{{param, up}}
	for i := 0; i < len(todo); i++ {
		by := s.endOf(todo[i]).by
		if by < 0 {
			continue
		}
		row = append(row, by)
		for _, t := range s.Forms[by].Terms {
			if next := (side{t.At, t.Coef > 0}); t.At != todo[i].param && !slices.Contains(todo, next) {
				todo = append(todo, next)
			}
		}
	}
	slices.Sort(row)
	return slices.Compact(row)
}

// At is the value that the point gives a parameter.
func (s *Space) At(param int32) float64 { return s.point.at[param] }
