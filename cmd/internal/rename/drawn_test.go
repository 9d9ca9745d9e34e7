package rename

import "testing"

func TestDrawn(t *testing.T) {
	to := map[string]string{"divider": "leaf", "divider.eye": "leaf.eye", "front.wire": "front.loops", "wire": "wire"}
	rename := func(path string) string {
		if p, ok := to[path]; ok {
			return p
		}
		return path
	}
	for name, want := range map[string]string{
		"divider": "leaf", "divider-3.eye": "leaf-3.eye", "divider-3": "leaf-3", "front.wire.7": "front.loops.7",
		"divider-9": "divider-9", "divider-9.eye": "divider-9.eye", // a panel of its own
		"front.2.wire.7": "front.2.loops.7", "back.wire.7": "back.wire.7", "a-2.eye": "a-2.eye", "": "", "7": "7",
	} {
		if got := (newNames{rename, map[string]bool{"divider": true, "divider-9": true}}).drawn(name); got != want {
			t.Errorf("%s becomes %s, want %s", name, got, want)
		}
	}
}
