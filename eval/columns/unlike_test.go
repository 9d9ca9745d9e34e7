package columns

import "testing"

func TestSlip(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"fern", "fren", true}, {"ferrn", "fern", true}, {"brable", "bramble", true}, {"Oak", "oak", true}, {"dark-oak", "dark oak", true},
		{"window.", "window", true}, {"150mm", "150 mm", true}, {"a5", "A5", true}, {"dark\u00a0oak", "dark oak", true},
		{"fern", "tern", false}, {"large", "larger", false}, {"lined", "unlined", false}, {"no window", "window", false}, {"1.5", "15", false},
		{"-5", "5", false}, {"A4", "A5", false}, {"oak", "oka", false}, {"front left", "front right", false}, {"gull", "gulls", false}, {"", "", true},
	} {
		if slip(c.a, c.b) != c.want || slip(c.b, c.a) != c.want {
			t.Errorf("%q and %q: a slip is %v, want %v", c.a, c.b, !c.want, c.want)
		}
	}
}
