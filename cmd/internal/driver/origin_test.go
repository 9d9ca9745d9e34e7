package driver

import (
	"testing"

	"foredge/export"
)

// Only what surely comes of another design is said to.
func TestAnother(t *testing.T) {
	gull := export.Origin{Design: "gull", Panels: []string{"front", "back"}}
	for _, test := range []struct {
		of   export.Origin
		want bool
	}{
		{gull, false},
		{export.Origin{}, false}, // not known
		{export.Origin{Design: "gull"}, false},
		{export.Origin{Design: "Gull", Panels: []string{"front"}}, false}, // one name on many disks
		{export.Origin{Design: "gull", Panels: []string{"Back"}}, false},
		{export.Origin{Design: "gull", Panels: []string{"back", "spine"}}, false},
		{export.Origin{Design: "gull", Panels: []string{"lid"}}, true},
		{export.Origin{Design: "gull-inside", Panels: []string{"front", "back"}}, true},
		{export.Origin{Design: "gull", Made: "jig", Panels: []string{"back"}}, false},
	} {
		if got, back := Another(test.of, gull), Another(gull, test.of); got != test.want || back != test.want {
			t.Errorf("%+v is another: %v, the other way %v, want %v", test.of, got, back, test.want)
		}
	}
}
