//go:build !js

package export

import "foredge/export/png"

// pictures are the encoders of formats that are only looked at.
func pictures() []Encoder { return []Encoder{png.Encoder{}} }
