package tell

import "foredge/eval/solve/must"

// spent tells that a design was given up, and where. What a context has ended is
// told by who ended it.
func (t *teller) spent(s *must.Spent) {
	if s.Err != nil {
		return
	}
	at, what := t.At, "this design"
	if s.At >= 0 {
		at, what = t.System.Vars[s.At].At, "what hangs together with "+t.System.Vars[s.At].Name
	}
	t.diags.Errorf("too-much-work", at, "%s takes more work than foredge does for one design", what).
		WithHelp("state where some of these things stand or how many they are, in numbers of their own, so that less hangs together; or make several designs of it")
}
