//go:build race

package show_test

// sample is how far those are apart of which papers are drawn: the race detector makes each twenty times slower and tells no more of
// papers that are drawn one by one. .ci/run draws all of them beside it.
const sample = 9
