package tell

import "foredge/eval/relation"

// linesOf lists the relations that mention a dimension, in order. All are filed at
// once, so that to tell of each of many dimensions doesn't take a look at all lines.
func (t *teller) linesOf(v relation.VarID) []int {
	if t.lines == nil {
		t.lines = make([][]int, len(t.System.Vars))
		for i := range t.System.Relations {
			for _, v := range t.System.Relations[i].Vars() {
				t.lines[v] = append(t.lines[v], i)
			}
		}
	}
	return t.lines[v]
}
