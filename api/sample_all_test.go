//go:build !race

package api_test

// eachOf is how far those are apart of which items of the catalogue are read and put back: all of them.
const eachOf = 1
