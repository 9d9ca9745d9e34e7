package watch

import (
	"slices"
	"strings"

	"foredge/cmd/internal/disk"
)

// Reads reports whether a build that read inputs read one of the changed files.
func Reads(inputs []disk.Input, changed []string) bool {
	return slices.ContainsFunc(inputs, func(in disk.Input) bool { return slices.Contains(changed, in.Path) })
}

// Overtaken reports whether a file changed since a fresh build read it. What came
// of that may come of half a file: it should be neither written nor told of. The
// inputs are marked, so that it is built again as soon as the file is at rest.
func Overtaken(inputs []disk.Input) bool {
	changed := false
	for i, in := range inputs {
		if disk.Look(in.Path) != in.State {
			inputs[i].State = torn()
			changed = true
		}
	}
	return changed
}

// torn is a state that no file has. An input that is said to have been in it
// counts as changed, however the file looks later.
func torn() disk.State { return disk.State{Kind: disk.Unreadable, Empty: true} }

// Inputs are the inputs of several designs together.
type Inputs map[string]disk.State

// Add puts in what one design read. A file that changed between two designs
// that read it counts as changed, so that both are built again.
func (s Inputs) Add(inputs []disk.Input) {
	for _, in := range inputs {
		if old, ok := s[in.Path]; ok && old != in.State {
			in.State = torn()
		}
		s[in.Path] = in.State
	}
}

// List is the inputs by path.
func (s Inputs) List() []disk.Input {
	var all []disk.Input
	for path, state := range s {
		all = append(all, disk.Input{Path: path, State: state})
	}
	slices.SortFunc(all, func(a, b disk.Input) int { return strings.Compare(a.Path, b.Path) })
	return all
}
