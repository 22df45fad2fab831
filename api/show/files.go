package show

import (
	"fmt"
	"strings"
)

// File is a view with a name of its own.
type File struct {
	Name string
	Raw  []byte
}

// All makes every view there is of an estimate: those of a corner for each corner, those of a run for each run.
func All(s *Subject, o Options) ([]File, error) {
	var files []File
	for _, name := range Names() {
		places, put := 0, func(*Options, int) {}
		switch name {
		case "seam.svg", "opening.svg":
			places, put = len(s.Estimate.Corners), func(o *Options, n int) { o.Corner = n }
			if places == 0 {
				continue
			}
		case "comparison.svg":
			if len(s.Estimate.Corners) == 0 {
				continue
			}
		case "season.svg":
			places, put = len(s.Estimate.Runs), func(o *Options, n int) { o.Run = n }
		}
		for n := 1; n <= max(places, 1); n++ {
			one, as := o, name
			put(&one, n)
			if places > 0 {
				base, end, _ := strings.Cut(name, ".")
				as = fmt.Sprintf("%s-%d.%s", base, n, end)
			}
			raw, err := Make(name, s, one)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", as, err)
			}
			files = append(files, File{as, raw})
		}
	}
	return files, nil
}
