// Package maybe is how foredge says that something may be absent.
//
// Start from [Of]. The zero value is absent, so that what nobody fills in is
// what nobody stated. Where else in eval and layout something may be missing,
// a nil pointer says so for a thing and the zero value for a choice; no number
// such as 0 or NaN stands for "not stated".
package maybe
