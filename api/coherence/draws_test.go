//go:build !race

package coherence_test

// draws is how many orders are drawn.
const draws = "2000"
