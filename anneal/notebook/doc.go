// Package notebook reads, writes and searches the records of a studio's
// firings, and learns from them what is this person's and this kiln's own.
//
// A record is a TOML file that a person can read and mend, one a firing. What
// this package does not know in it, it keeps: a change of a record changes the
// text of one value and leaves the rest as it stands, comments too.
//
// The package works on texts. Where they lie, and how a file is replaced
// without loss, is the caller's; what light means in stress is package
// polariscope's. It gives no verdict.
package notebook
