package sheet

// Warnings returns what is odd about a row but may be so.
func (r Row) Warnings() []Wrong {
	if r.Part != Species {
		return nil
	}
	var odd []Wrong
	for _, pair := range [][2]string{{"tangential", "radial"}, {"shrinkage_tangential", "shrinkage_radial"},
		{"ratio_radial", "ratio_tangential"}} {
		first, second := r.Get(pair[0]), r.Get(pair[1])
		if first != "" && second != "" && parse(first) < parse(second) {
			odd = append(odd, Wrong{Column: pair[0],
				Detail: "Is less than " + pair[1] + "; in nearly all woods it is more. Check that the two were not exchanged."})
		}
	}
	return odd
}
