//go:build race

package coherence_test

// draws is how many orders are drawn: fewer, as the race detector makes each twenty times slower. .ci/run draws all of them beside it.
const draws = "200"
