package labour

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

var (
	someConditions = []catalogue.Condition{catalogue.Always, catalogue.IfEdgeGlued, catalogue.IfPanel, catalogue.IfProfile,
		catalogue.IfCutout, catalogue.IfFinish,
		catalogue.IfProfileBefore, catalogue.IfProfileAfter, catalogue.IfCorner, catalogue.Condition(plan.Miter),
		catalogue.Condition(plan.Butt), catalogue.Condition(plan.MasonsMiter), catalogue.IfTemplate,
		catalogue.IfScribe, catalogue.IfCarvedCorner, catalogue.IfCopedCorner, catalogue.IfSlottedHoles, catalogue.IfLetIn, catalogue.IfInserts,
		catalogue.Condition(catalogue.Biscuit), catalogue.Condition(catalogue.LooseTenon),
		catalogue.Condition(catalogue.PocketScrew), catalogue.Condition(catalogue.DrawBolt), "if_raining"}
	someDrivers = []catalogue.Driver{catalogue.PerTop, catalogue.PerPiece, catalogue.PerCorner, catalogue.PerSeamMetre,
		catalogue.PerStave, catalogue.PerStaveMetre,
		catalogue.PerGlueMetre, catalogue.PerSquareMetre, catalogue.PerEdgeMetre, catalogue.PerAlignment, catalogue.PerPull,
		catalogue.PerFixing, catalogue.PerCutout,
		catalogue.PerCoat, catalogue.PerCoatSquare, catalogue.PerHundredweight, catalogue.PerMouldingMetre, catalogue.PerClip,
		catalogue.PerSealantLitre,
		catalogue.PerCoverMetre, "moon"}
)

// drawStandards makes a few standards; a catalogue that asks for what there is not is one in some.
func drawStandards(t *rapid.T) []catalogue.LabourStandard {
	known := rapid.IntRange(0, 9).Draw(t, "known") > 0
	pick := func(all int) int {
		if known {
			all--
		}
		return rapid.IntRange(0, all-1).Draw(t, "pick")
	}
	list := make([]catalogue.LabourStandard, rapid.IntRange(1, 12).Draw(t, "standards"))
	for i := range list {
		m := rapid.Float64Range(0, 90)
		list[i] = catalogue.LabourStandard{Code: string(rune('a' + i)), When: someConditions[pick(len(someConditions))],
			Driver: someDrivers[pick(len(someDrivers))],
			Role:   rapid.SampledFrom([]string{"maker", "helper"}).Draw(t, "role"), Crew: rapid.IntRange(1, 2).Draw(t, "crew"),
			Setup: exactly(m.Draw(t, "setup")),
			Each:  exactly(m.Draw(t, "each")), WaitHours: float64(rapid.IntRange(0, 3).Draw(t, "wait")),
			Lifts:  rapid.Bool().Draw(t, "lifts"),
			ByTool: rapid.Bool().Draw(t, "by tool"), ByHardness: rapid.Bool().Draw(t, "by hardness"),
			ByExperience: rapid.Bool().Draw(t, "by experience"),
			Gives:        rapid.SampledFrom([]catalogue.Service{"", "", catalogue.Joining, catalogue.Fitting}).Draw(t, "gives")}
		for k := range i {
			if rapid.IntRange(0, 3).Draw(t, "after") == 0 {
				list[i].After = append(list[i].After, string(rune('a'+k)))
			}
		}
	}
	return list
}

// redraw changes one field of a job or of a corner, found by its number, so that a new field is drawn as well.
func redraw(t *rapid.T, v reflect.Value) {
	at := rapid.IntRange(0, v.NumField()-1).Draw(t, "field")
	f, name := v.Field(at), v.Type().Field(at).Name
	few := rapid.IntRange(0, 3).Draw(t, "value")
	switch f.Interface().(type) {
	case []Corner:
		corners := make([]Corner, few)
		for i := range corners {
			c := reflect.ValueOf(&corners[i]).Elem()
			for range c.NumField() {
				redraw(t, c)
			}
		}
		f.Set(reflect.ValueOf(corners))
		return
	case [2]PullParts:
		kinds := [4][2]catalogue.FastenerKind{{"", ""}, {catalogue.PocketScrew, ""}, {catalogue.DrawBolt, ""},
			{catalogue.PocketScrew, catalogue.DrawBolt}}[few]
		var pulls [2]PullParts
		for i, kind := range kinds {
			if kind != "" {
				pulls[i] = PullParts{kind, rapid.IntRange(1, 4).Draw(t, "pull parts")}
			}
		}
		f.Set(reflect.ValueOf(pulls))
		return
	case catalogue.FastenerKind:
		f.SetString([]string{"", string(catalogue.Biscuit), string(catalogue.LooseTenon), "dowel"}[few])
		return
	case plan.JointKind:
		f.SetString([]string{"", string(plan.Butt), string(plan.Miter), string(plan.MasonsMiter)}[few])
		return
	}
	switch f.Kind() {
	case reflect.Bool:
		f.SetBool(few > 1)
	case reflect.Int:
		f.SetInt(int64(few))
	case reflect.Float64:
		f.SetFloat(float64(few) * 1.7)
	case reflect.String:
		words := map[string][]string{"Tool": {"track_saw", "hand_saw", "router", "spoon"},
			"Experience": {"first_time", "practised", "seasoned", "none"},
			"Carry":      {"", byTemplate, byScribe, "none"}, "Remedy": {"", remedyRadius, remedyCarved, "coped"}}
		f.SetString(words[name][few])
	default:
		t.Fatalf("a field of kind %s is not drawn", f.Kind())
	}
}

// A tally that has reckoned other jobs, refused ones too, says what a new one does, whatever the jobs differ in.
func TestATallyUsedAgainSaysWhatANewOneDoes(t *testing.T) {
	t.Parallel()
	empty := shop(t)
	refused, reckoned := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		cat := (&catalogue.Snapshot{LabourRoles: empty.LabourRoles, LabourStandards: drawStandards(t),
			Settings: empty.Settings}).Index()
		used, job := NewTally(cat), desk()
		job.Thickness = 38 * measure.Millimetre
		for range rapid.IntRange(1, 20).Draw(t, "jobs") {
			for range rapid.IntRange(0, 3).Draw(t, "changes") {
				job.Corners = append([]Corner{}, job.Corners...)
				redraw(t, reflect.ValueOf(&job).Elem())
				for i := range job.Corners {
					redraw(t, reflect.ValueOf(&job.Corners[i]).Elem())
				}
			}
			want, wantHours, wrong := NewTally(cat).Cost(&job)
			got, hours, err := used.Cost(&job)
			require.Equal(t, wrong, err)
			require.Equal(t, want, got)
			require.Equal(t, wantHours, hours)
			if rapid.Bool().Draw(t, "plan") {
				whole, wrong := NewTally(cat).Make(&job)
				again, err := used.Make(&job)
				require.Equal(t, wrong, err)
				require.Equal(t, whole, again)
				require.Equal(t, want, again.Cost)
			}
			if err != nil {
				refused++
			} else {
				reckoned++
			}
		}
	})
	require.Positive(t, refused)
	require.Greater(t, reckoned, refused)
}

// A plan keeps what it says when the tally that made it makes another one.
func TestAPlanIsItsOwn(t *testing.T) {
	t.Parallel()
	cat := workshop(t)
	tally, job := NewTally(cat), desk()
	p, err := tally.Make(&job)
	require.NoError(t, err)
	before := make1(t, job, cat)
	job.Corners, job.EdgeGlued, job.Coats, job.Cutouts = nil, false, 1, 3
	_, err = tally.Make(&job)
	require.NoError(t, err)
	require.Equal(t, before, p)
}
