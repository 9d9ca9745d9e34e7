package material_test

import (
	"slices"
	"testing"

	"foredge/eval/material"
)

// Whatever stands before a banned word, it is found, and nothing goes wrong.
func FuzzIn(f *testing.F) {
	for _, words := range []string{"", "3mm black", "***", "poly\u0301vinyl acetate", "\xff\xfe", "veg tan leather", "Ä Ö ß", "p.v.", "faux"} {
		f.Add(words)
	}
	f.Fuzz(func(t *testing.T, words string) {
		material.In(words)
		if len(words) > 900 {
			return
		}
		if !slices.ContainsFunc(material.In(words+" pvc"), func(m material.Meant) bool { return m.Material == "pvc" }) {
			t.Errorf("%q and pvc is taken for %v", words, material.In(words+" pvc"))
		}
	})
}
