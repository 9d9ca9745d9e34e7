// Package motion tells how long a laser takes over what it runs.
//
// Start from [Machine] and its method Time: speeds, acceleration and line interval as
// stated by the maker. The head speeds up and slows down evenly, takes corners and arcs
// as fast as it may, and looks ahead over any number of short lines. What is needed and
// not stated is returned as a list of [Need]; then there is no time.
//
// The package never makes up a speed, and knows nothing of designs and files.
package motion
