package catalogue

import (
	"strconv"

	"seamwright/service/measure"
)

// ToleranceSettings are how far off what is measured and cut is seldom more than: limits, each beyond which one in about
// twenty lies.
type ToleranceSettings struct {
	ToleranceWalls    measure.Angle  // a corner of walls off the usual angle it is taken for
	ToleranceBase     measure.Angle  // a base's corner off that of the walls
	ToleranceTape     measure.Length // one reading
	ToleranceTapeMark measure.Length // along each wall, for the three tapes of a corner that was not taped yet
	ToleranceTemplate measure.Length // each end of a seam, on each piece that it is marked on
	ToleranceScribe   measure.Length // each end of a scribed line
	ToleranceGuide    measure.Length // each end of a cut along a guide
	ToleranceHandSaw  measure.Length // each end of a cut by hand
	ToleranceSkim     measure.Length // what a skim cut takes off, at each end of a face
}

var toleranceSettings = []Setting{
	degrees("tolerance_walls", "0.5", 5, "a corner of walls is seldom further than this off the usual angle that it is taken for",
		func(s *Settings) *measure.Angle { return &s.ToleranceWalls }),
	degrees("tolerance_base", "0.1", 5, "a base's corner is seldom further than this off that of the walls",
		func(s *Settings) *measure.Angle { return &s.ToleranceBase }),
	length("tolerance_tape", "1.5875", 20, "a tape reading is seldom further off than this (1/16 in)",
		func(s *Settings) *measure.Length { return &s.ToleranceTape }),
	{Key: "tolerance_tape_mark", Kind: SettingLength, Default: "1219.2", Low: 300, High: 5000,
		About:  "a corner is taped between marks so far along each wall, or as far as its run reaches (48 in)",
		Source: "common-practice",
		put:    func(s *Settings, p parsed) { s.ToleranceTapeMark = measure.Length(p.number) }},
	length("tolerance_template", "0.79375", 20,
		"a site template marks an end of a seam on a piece seldom further off than this (1/32 in)",
		func(s *Settings) *measure.Length { return &s.ToleranceTemplate }),
	length("tolerance_scribe", "0.396875", 20, "a scribed line is seldom further off than this at either end (1/64 in)",
		func(s *Settings) *measure.Length { return &s.ToleranceScribe }),
	length("tolerance_guide", "0.254", 20, "a cut along a guide is seldom further off its line than this at either end (0.010 in)",
		func(s *Settings) *measure.Length { return &s.ToleranceGuide }),
	length("tolerance_hand_saw", "1.5875", 20, "a cut by hand is seldom further off its line than this at either end (1/16 in)",
		func(s *Settings) *measure.Length { return &s.ToleranceHandSaw }),
	length("tolerance_skim", "0.127", 20, "a skim cut takes seldom more or less than this too much off at either end of a face (0.005 in)",
		func(s *Settings) *measure.Length { return &s.ToleranceSkim }),
}

func degrees(key, value string, high float64, about string, field func(*Settings) *measure.Angle) Setting {
	return Setting{Key: key, Kind: SettingNumber, Default: value, High: high, About: about + ", in degrees",
		Source: "common-practice",
		put:    func(s *Settings, p parsed) { *field(s) = measure.Angle(p.number) * measure.Degree },
		Value: func(s *Settings) string {
			return strconv.FormatFloat(measure.Round(field(s).Degrees(), 9), 'f', -1, 64)
		}}
}
