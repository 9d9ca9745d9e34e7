// Package resolve finds out what the names in a design mean: which things
// there are after `use`, `like`, `mirrors`, `covers` and `without`, which
// lines each of them has, and what a name in a line stands for.
//
// Start from [Resolve], which gives an [Info]; its [Thing]s are the things of
// the design with their own and inherited lines. What a name means where it is
// written says [Scope.Lookup] for a value, [Scope.Subject] for what a line is
// about and [Scope.LookupThing] where a thing is to be named.
//
// A line that `like` or `mirrors` brings along keeps the place in which it was
// written: names that meant a dimension of the old thing mean that of the new
// one, all others keep their meaning. What replaces what is in replace.go; a line about
// a thing within, which a clause there may replace, is left to that: hand.go.
//
// Where things share a name, which of them is there hangs on the order: such a
// design [Info.Varies] and is resolved for each order by [Info.For], with a
// [Judge] that decides conditions. Which of them comes along to what is like that in
// which they stand is in twin.go. The package itself computes no value and knows
// no relation; the tree is never written to.
package resolve
