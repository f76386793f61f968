// Package validation holds tests alone: they reckon anew what springwright says beside what others say, papers, closed
// forms and other programs, and write testdata/validation/README.md of it, with its pictures. The page is checked on
// every run, so that it cannot go stale.
package validation
