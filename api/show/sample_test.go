package show_test

// sampled are the first of all and each that is as many further on as this build draws.
func sampled[T any](all []T) (some []T) {
	for i := 0; i < len(all); i += sample {
		some = append(some, all[i])
	}
	return some
}
