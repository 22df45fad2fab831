//go:build !race

package show_test

// sample is how far those are apart of which papers are drawn: all of them.
const sample = 1
