// Package coherence holds tests only. They read a whole answer of POST /v1/estimates as a caller does, as JSON and
// nothing else, and ask whether its parts agree: what one part says is reckoned again from another one, by formulas
// written down here from the trade's rules, not by the functions that made the answer.
package coherence
