//go:build race

package api_test

// eachOf is how far those are apart of which items of the catalogue are read and put back: one call after the other, more than a
// thousand, tell the race detector nothing that a fifth of them does not. .ci/run puts all of them back beside it.
const eachOf = 5
