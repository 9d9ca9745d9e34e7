package job

import (
	"cmp"
	"slices"

	"foredge/eval/design"
	"foredge/eval/maybe"
)

// A called is a stock of a design, as jobs of the file call it.
type called struct {
	plain, name, material string
	thick                 maybe.Of[float64]
}

func calledOf(k *design.Stock) called { return called{k.Plain, k.Name, k.Material.AsName, k.Thick} }

// mayBe reports whether two stocks of one plain name may be the same, by what is known of both.
func (c called) mayBe(other called) bool {
	_, _, differ := differing(c.thick, other.thick)
	return c.plain == other.plain && !differ && (c.material == "" || other.material == "" || c.material == other.material)
}

// oneName gives stocks that are the same one name: where orders choose among several of a name, each is called
// by its material and thickness too, and in a design that has only one of them it isn't. before are those of
// the jobs that are made before; what this job has is added to them.
func oneName(designs []*design.Design, before *[]called) {
	var chosen []called
	for _, d := range designs {
		for _, k := range d.Stocks() {
			if c := calledOf(k); k.Chosen && !slices.Contains(chosen, c) {
				chosen = append(chosen, c)
			}
		}
	}
	var all []called
	for _, d := range designs {
		names := map[string]string{}
		for _, k := range d.Stocks() {
			c := calledOf(k)
			if k.Chosen { // its material and thickness tell it from others, so they must be known of both
				c.name = cmp.Or(onlyName(c, known(c, *before)), k.Name)
			} else { // of several that it may be it is that of which the same is known
				c.name = cmp.Or(onlyName(c, known(c, *before)), onlyName(c, *before), onlyName(c, known(c, chosen)), onlyName(c, chosen), k.Name)
			}
			names[k.Name] = c.name
			all = append(all, c)
		}
		d.EachStock(func(k *design.Stock) {
			if name, its := names[k.Wood]; its {
				k.Wood = name
			}
			if name, its := names[k.Name]; its {
				k.Name = name
			}
		})
	}
	for _, c := range all {
		if !slices.Contains(*before, c) {
			*before = append(*before, c)
		}
	}
}

// known are those of a stock's very material and thickness.
func known(c called, others []called) []called {
	return slices.DeleteFunc(slices.Clone(others), func(other called) bool {
		return other.material != c.material || other.thick.Present() != c.thick.Present()
	})
}

// onlyName is the name by which others go that may be a stock: its own if one has that, "" where none may be
// it, or several of different names.
func onlyName(c called, others []called) (name string) {
	several := false
	for _, other := range others {
		if !c.mayBe(other) {
			continue
		}
		if other.name == c.name {
			return c.name
		}
		if name == "" {
			name = other.name
		} else if name != other.name {
			several = true
		}
	}
	if several {
		return ""
	}
	return name
}
