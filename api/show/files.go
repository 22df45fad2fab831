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

// of says how often a view is there, and for what: once, for each corner, or for each run.
type of int

const (
	once of = iota
	eachCorner
	eachRun
	eachRunAndCorner
	whereCorners // once, when there are corners
)

// repeated are the views that are there more than once, or not always.
var repeated = map[string]of{"seam.svg": eachCorner, "opening.svg": eachCorner, "stick.svg": eachCorner,
	"stick.pdf": eachCorner, "comparison.svg": whereCorners,
	"season.svg": eachRun, "template.svg": eachRunAndCorner, "template.pdf": eachRunAndCorner}

// All makes every view there is of an estimate: those of a corner for each corner, those of a run for each run.
func All(s *Subject, o Options) ([]File, error) {
	var files []File
	add := func(name, as string, o Options) error {
		raw, err := Make(name, s, o)
		if err != nil {
			return fmt.Errorf("%s: %w", as, err)
		}
		files = append(files, File{as, raw})
		return nil
	}
	for _, name := range Names() {
		base, end, _ := strings.Cut(name, ".")
		how := repeated[name]
		if how == once || how == whereCorners && len(s.Estimate.Corners) > 0 {
			if err := add(name, name, o); err != nil {
				return nil, err
			}
			continue
		}
		if how == eachRun || how == eachRunAndCorner {
			for n := range s.Estimate.Runs {
				one := o
				one.Run = n + 1
				if err := add(name, fmt.Sprintf("%s-%d.%s", base, n+1, end), one); err != nil {
					return nil, err
				}
			}
			base += "-corner"
		}
		if how == eachCorner || how == eachRunAndCorner {
			for n := range s.Estimate.Corners {
				one := o
				one.Corner = n + 1
				if err := add(name, fmt.Sprintf("%s-%d.%s", base, n+1, end), one); err != nil {
					return nil, err
				}
			}
		}
	}
	return files, nil
}
