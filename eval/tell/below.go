package tell

import (
	"fmt"

	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solution"
	"foredge/lang/unit"
)

// belowZero finds sizes and distances of a bench that clearly come out below 0 where
// they can't be: own are those of the notebook or stock itself, others those of what
// stands in it.
func belowZero(s *solution.Solution, bench int) (own, others []fault) {
	for i := range s.System.Vars {
		v := &s.System.Vars[i]
		id := relation.VarID(i)
		if v.Bench != bench || v.Signed || v.Whole || !(s.Value(id) < -3*s.Numbers.U[id]-1e-6) {
			continue
		}
		f := fault{below: true, says: fmt.Sprintf("%s comes out at %s, and can't be less than 0", v.Name, s.Format(s.Value(id), v.Kind, v.At)),
			of: []relation.Expr{relation.V(id)}, at: v.At}
		switch s.Owners[id].(type) {
		case *model.Notebook, *model.Stock:
			own = append(own, f)
		default:
			others = append(others, f)
		}
	}
	return own, others
}

// stocksBelow tells of measured stocks that come out below 0. bad are the benches whose
// readings contradict each other; what is told of goes to wrong.
func (t *teller) stocksBelow(bad map[int]bool, wrong set) {
	for _, n := range t.Things {
		stock, ok := n.(*model.Stock)
		if !ok || stock.Bench == 0 || bad[stock.Bench] {
			continue
		}
		own, _ := belowZero(t.Solution, stock.Bench)
		for _, f := range own {
			wrong[stock] = true
			d := t.diags.Errorf("negative", f.at, "%s", f.says)
			for _, r := range t.Numbers.Benches[stock.Bench-1].Readings {
				read := &t.System.Readings[r.Index]
				d.Note(read.At, "%s was read as %s", read.Text, t.readAs(*read, unit.Length))
			}
			d.WithHelp("measure it once more, and look at the lines that give it")
		}
	}
}
