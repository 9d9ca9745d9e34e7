// Package watchtest saves files as editors do, for tests of watching.
//
// Start from [Ways]. It is for tests only: no command may import it.
package watchtest
