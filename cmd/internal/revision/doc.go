// Package revision reads files as they were in a revision of the version control, by
// asking git itself.
//
// Start from [Of]. Nothing in the repository is changed, and no name that a person gives
// is taken for an option.
package revision
