package material

import (
	_ "embed"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"foredge/eval/shelf"
	"foredge/lang/lookalike"
)

//go:embed names.tsv
var namesTable string

// A Meant is a material of the shelf of which a text speaks.
type Meant struct {
	Material string // its name on the shelf
	Words    string // the words of the text that say so, in small letters without accents
}

// In finds the materials of which words speak, as they stand there: those that the
// shelf declares, and what the trade calls them. A name counts among other words and
// within a longer one, with its hyphens, blanks and accents in any way, with a letter
// wrong where it has five or more and two where it has eleven; short ones count only
// as they are, and a word that is the name of one material is no slip of another's.
// Nothing is looked for beyond the first thousand bytes.
func In(words string) []Meant {
	said := tokens(words[:min(len(words), 1000)])
	taken := make([]bool, len(said))
	for at := range said { // what means something else
		names().none.each(said[at:], func(_ *called, length int) {
			for i := range length {
				taken[at+i] = true
			}
		})
	}
	var found []Meant
	for at := range said {
		names().some.each(said[at:], func(n *called, length int) {
			if !slices.Contains(taken[at:at+length], true) && !slices.ContainsFunc(found, func(m Meant) bool { return m.Material == n.material }) {
				found = append(found, Meant{n.material, strings.Join(said[at:at+length], " ")})
			}
		})
	}
	return found
}

// A called is one name of a material, "" of none: names.tsv has one on
// each line, with its language. Where that has - for the material, the words mean
// something else, and only as they stand there. Names of the trade are from memory, but
// for those of the lists that the shelf speaks of.
type called struct {
	material string
	words    []string // anyWord stands for one of any kind
	whole    string   // the words as one
	inside   bool     // it counts within a longer word too
}

// anyWord stands in a name for one word of any kind.
const anyWord = "*"

// An index has names by how their first word begins, which is never anyWord, and those
// that count within a longer word.
type index struct {
	begins map[byte][]*called
	inside []*called
	single map[string]bool // those of one word
}

func (x *index) add(n *called) {
	first := n.words[0][0]
	x.begins[first] = append(x.begins[first], n)
	if n.inside {
		x.inside = append(x.inside, n)
	}
	if len(n.words) == 1 {
		x.single[n.whole] = true
	}
}

// each calls found with each name with which words begin, and how many of them it is.
func (x *index) each(said []string, found func(n *called, length int)) {
	first := said[0]
	for _, n := range x.begins[first[0]] {
		if length := n.length(said); length > 0 {
			found(n, length)
		}
	}
	for _, n := range x.inside {
		if n.whole[0] != first[0] && strings.Contains(first, n.whole) {
			found(n, 1)
		}
	}
}

// names are all names of materials: some mean one of the shelf, and none mean
// something else.
var names = sync.OnceValue(func() *struct{ some, none index } {
	var all struct{ some, none index }
	for _, x := range []*index{&all.some, &all.none} {
		x.begins, x.single = map[byte][]*called{}, map[string]bool{}
	}
	add := func(of, name string) {
		for _, words := range [][]string{tokens(name), tokens(spelledOut.Replace(name))} {
			either := [][]string{words}
			if len(words) == 2 && !slices.Contains(words, anyWord) {
				either = append(either, []string{words[1], words[0]})
			}
			for _, words := range either {
				n := &called{of, words, strings.Join(words, ""), of != "" && len(words) == 1 && countsInside(words[0])}
				if of == "" {
					all.none.add(n)
				} else {
					all.some.add(n)
				}
			}
		}
	}
	for _, name := range shelf.Declared("materials", "material") {
		add(name, name)
	}
	_, rows, _ := strings.Cut(namesTable, "\n") // the headings
	for line := range strings.Lines(rows) {
		f := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		add(strings.TrimPrefix(f[0], "-"), f[2])
	}
	return &all
})

// countsInside reports whether a name counts within a longer word too: a long one, or
// one of three consonants or more, such as pvc, which no other word holds.
func countsInside(name string) bool {
	return len(name) >= 5 || len(name) >= 3 && !strings.ContainsAny(name, "aeiouy0123456789")
}

// length is how many of the words that begin a text are the name; 0 if it isn't
// there. Both begin with the same letter, as no slip is in the first.
func (n *called) length(said []string) int {
	first := said[0]
	if len(said) >= len(n.words) && n.is(said) {
		return len(n.words)
	}
	// Otherwise in one, or parted: fibre glass, p.v.c.
	if len(n.words) > 1 && n.material != "" && alike(n.whole, first) {
		return 1
	}
	rest, begun := strings.CutPrefix(n.whole, first)
	for i := 1; begun && rest != "" && i < len(said); i++ {
		if rest, begun = strings.CutPrefix(rest, said[i]); begun && rest == "" {
			// A short name isn't made of pieces of words, but of single letters.
			if utf8.RuneCountInString(n.whole) < 5 && i+1 < len(n.whole) {
				return 0
			}
			return i + 1
		}
	}
	return 0
}

// is reports whether each word is that of the name.
func (n *called) is(said []string) bool {
	for i, w := range n.words {
		switch {
		case w == anyWord, w == said[i]:
		case n.material == "": // what means something else must be there as it is
			return false
		case !alike(w, said[i]) && !(n.inside && within(w, said[i])):
			return false
		}
	}
	return true
}

// alike reports whether a word is the one of a name: it may have an ending, and
// the slips that a word of its length leaves room for, but not in the first letter:
// poliestireno is no polietileno that was misspelt.
func alike(name, said string) bool {
	if name == said {
		return true
	}
	n := utf8.RuneCountInString(name)
	rest, begins := strings.CutPrefix(said, name)
	switch {
	case begins && n >= 6, begins && rest == "s" && n >= 3:
		return true
	case n < 5 || name[0] != said[0] || names().some.single[said]:
		return false
	}
	most := 1
	if n >= 11 {
		most = 2
	}
	if m := utf8.RuneCountInString(said); m < n-most || m > n+most {
		return false
	}
	return slips([]rune(name), []rune(said), most)
}

// within reports whether a word holds a name, or begins with one of seven letters or
// more in which there is a slip.
func within(name, said string) bool {
	n := utf8.RuneCountInString(name)
	if strings.Contains(said, name) || n < 7 || name[0] != said[0] || names().some.single[said] {
		return strings.Contains(said, name)
	}
	word, all := []rune(name), []rune(said)
	for k := n - 1; k <= n+1 && k < len(all); k++ {
		if slips(word, all[:k], 1) {
			return true
		}
	}
	return false
}

// slips reports whether most letters added, left out, mistaken or changed in place
// with the next one lead from one word to another.
func slips(a, b []rune, most int) bool {
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	if len(a) == 0 || len(b) == 0 {
		return len(a)+len(b) <= most
	}
	return most > 0 && (slips(a[1:], b, most-1) || slips(a, b[1:], most-1) || slips(a[1:], b[1:], most-1) ||
		len(a) > 1 && len(b) > 1 && a[0] == b[1] && a[1] == b[0] && slips(a[2:], b[2:], most-1))
}

// spelledOut is how words are written where there are no dots to put over letters.
var spelledOut = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "Ä", "Ae", "Ö", "Oe", "Ü", "Ue")

// plainLetters are letters without their accents.
var plainLetters = strings.NewReplacer("à", "a", "á", "a", "â", "a", "ä", "a", "ã", "a", "å", "a", "æ", "ae", "ç", "c", "è", "e", "é", "e", "ê", "e", "ë", "e",
	"ì", "i", "í", "i", "î", "i", "ï", "i", "ñ", "n", "ò", "o", "ó", "o", "ô", "o", "ö", "o", "õ", "o", "ø", "o", "œ", "oe", "ù", "u", "ú", "u", "û", "u", "ü", "u", "ß", "ss")

// tokens are the words of a text in small letters without accents; numbers are
// words of their own.
func tokens(text string) []string {
	var all []string
	var word strings.Builder
	end := func() {
		if word.Len() > 0 {
			all = append(all, word.String())
			word.Reset()
		}
	}
	number := false
	for _, r := range plainLetters.Replace(strings.ToLower(lookalike.Latin(text))) {
		switch {
		case unicode.Is(unicode.Mn, r) || unicode.Is(unicode.Cf, r): // an accent by itself; what nobody sees
		case r == '*':
			end()
			all = append(all, anyWord)
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			if unicode.IsDigit(r) != number {
				end()
			}
			number = unicode.IsDigit(r)
			word.WriteRune(r)
		default:
			end()
		}
	}
	end()
	return all
}
