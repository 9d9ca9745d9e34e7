// Package geos lets tests ask GEOS, through Python's shapely, for a second
// opinion on geometry. Start from [Ask]. Only tests may import it.
package geos
