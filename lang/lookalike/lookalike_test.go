package lookalike

import "testing"

func TestKey(t *testing.T) {
	for _, same := range [][2]string{
		{"gull", "GULL"}, {"caf\u00e9", "cafe\u0301"}, {"CAF\u00c9", "cafe\u0301"}, {"\u1e9b\u0323", "\u1e61\u0323"}, {"\u03c3", "\u03c2"},
	} {
		if Key(same[0]) != Key(same[1]) {
			t.Errorf("%+q and %+q are two", same[0], same[1])
		}
	}
	for _, two := range [][2]string{{"gull", "gulls"}, {"e", "\u00e9"}, {"o", "\u043e"}, {"ss", "\u00df"}} {
		if Key(two[0]) == Key(two[1]) {
			t.Errorf("%+q and %+q are one", two[0], two[1])
		}
	}
}

func TestMixed(t *testing.T) {
	for word, want := range map[string]string{
		"front": "", "фронт": "", "fr\u043ent": "Latin f (U+0066), Cyrillic \u043e (U+043E)", "\u03bcm": "Latin m (U+006D), Greek \u03bc (U+03BC)", "a1": "", "漢a": "",
	} {
		if got := Mixed(word); got != want {
			t.Errorf("%s: %q, want %q", word, got, want)
		}
	}
}
