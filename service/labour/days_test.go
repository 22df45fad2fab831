package labour

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
)

func waiting(s catalogue.LabourStandard, hours float64) catalogue.LabourStandard {
	s.WaitHours = hours
	return s
}

func onePass(s catalogue.LabourStandard) catalogue.LabourStandard {
	s.ByTool = true
	return s
}

// Days of eight hours: work from clock hour 0 to 8, 24 to 32, and so on.
func TestWorkingDays(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name      string
		standards []catalogue.LabourStandard
		days      []int // on which each step starts, in the order of their numbers
		working   int
		critical  float64 // hours
	}{
		{"a full day is one day", []catalogue.LabourStandard{takes("a", 240), takes("b", 240, "a")}, []int{1, 1}, 1, 8},
		{"what follows a full day starts on the next", []catalogue.LabourStandard{takes("a", 480), takes("b", 1, "a")}, []int{1, 2}, 2, 8 + 1./60},
		{"a step may run over nights", []catalogue.LabourStandard{takes("a", 300), takes("b", 900, "a"), takes("c", 60, "b")}, []int{1, 1, 3}, 3, 21},
		{"a step may end with a day", []catalogue.LabourStandard{takes("a", 1440), takes("b", 1, "a")}, []int{1, 4}, 4, 24 + 1./60},
		{"a wait runs on overnight", []catalogue.LabourStandard{waiting(takes("a", 480), 16), takes("b", 60, "a")}, []int{1, 2}, 2, 25},
		{"a wait holds up the next morning", []catalogue.LabourStandard{waiting(takes("a", 480), 20), takes("b", 60, "a")}, []int{1, 2}, 2, 29},
		{"a wait into the second night", []catalogue.LabourStandard{waiting(takes("a", 480), 24), takes("b", 60, "a")}, []int{1, 3}, 3, 33},
		{"a last wait in the night belongs to the day before", []catalogue.LabourStandard{waiting(takes("a", 480), 16)}, []int{1}, 1, 24},
		{"a last wait into the next day", []catalogue.LabourStandard{waiting(takes("a", 480), 16.1)}, []int{1}, 2, 24.1},
		{"the team goes on with what is ready", []catalogue.LabourStandard{waiting(takes("a", 60), 4), takes("b", 60, "a"), takes("c", 240)}, []int{1, 1, 1}, 1, 6},
		{"what is done is not done again", []catalogue.LabourStandard{waiting(takes("a", 60), 4), takes("b", 180, "a"), takes("c", 90)}, []int{1, 1, 1}, 1, 8},
		{"the team waits when nothing is ready", []catalogue.LabourStandard{waiting(takes("a", 60), 4), takes("b", 240, "a")}, []int{1, 1}, 2, 9},
		{"two steps side by side are one team's work", []catalogue.LabourStandard{takes("a", 480), takes("b", 480)}, []int{1, 2}, 2, 8},
		{"a seam cut is not broken by the night", []catalogue.LabourStandard{takes("a", 420), onePass(takes("b", 90, "a"))}, []int{1, 2}, 2, 8.5},
		{"a seam cut that just fits", []catalogue.LabourStandard{takes("a", 420), onePass(takes("b", 60, "a"))}, []int{1, 1}, 1, 8},
		{"a seam cut too long for any day starts at once", []catalogue.LabourStandard{takes("a", 420), onePass(takes("b", 500, "a"))}, []int{1, 1}, 2, 7 + 500./60},
		{"other work fills the day before a seam cut", []catalogue.LabourStandard{takes("a", 420), onePass(takes("b", 90, "a")), takes("c", 60)}, []int{1, 2, 1}, 2, 8.5},
		{"a wait without work", []catalogue.LabourStandard{waiting(takes("a", 0), 72), takes("b", 60, "a")}, []int{1, 4}, 4, 73},
	} {
		p := make1(t, desk(), shop(t, c.standards...))
		var days []int
		for _, s := range p.Steps {
			days = append(days, s.Day)
		}
		require.Equal(t, c.days, days, c.name)
		require.Equal(t, c.working, p.WorkingDays, c.name)
		require.InDelta(t, c.critical, p.CriticalPathHours, 1e-9, c.name)
	}
}

func TestAShopThatNeverClosesNeedsNoNight(t *testing.T) {
	t.Parallel()
	cat := shop(t, takes("a", 1440), takes("b", 1440, "a"), takes("c", 60, "b"))
	cat.Settings.HoursPerDay = 24
	p := make1(t, desk(), cat)
	require.Equal(t, 3, p.WorkingDays)
	require.Equal(t, 3, p.Steps[2].Day)
}

func TestCriticalStepsAreThoseOnALongestChain(t *testing.T) {
	t.Parallel()
	p := make1(t, desk(), shop(t,
		takes("a", 60), waiting(takes("b", 60, "a"), 5), takes("c", 300, "a"), takes("d", 360, "a"),
		takes("e", 60, "b", "c", "d")))
	var critical []string
	for _, s := range p.Steps {
		if s.Critical {
			critical = append(critical, s.Code)
		}
	}
	require.Equal(t, []string{"a", "b", "d", "e"}, critical, "two chains of eight hours, one of seven")
	require.InDelta(t, 8, p.CriticalPathHours, 1e-12)
}

func TestNoStepStartsBeforeThoseItFollows(t *testing.T) {
	t.Parallel()
	for _, job := range []Job{desk(), threeCorners()} {
		p := make1(t, job, workshop(t))
		require.Greater(t, len(p.Steps), 20)
		for _, s := range p.Steps {
			for _, before := range s.After {
				require.Less(t, before, s.Number)
				require.LessOrEqual(t, p.Steps[before-1].Day, s.Day)
			}
		}
		require.GreaterOrEqual(t, float64(p.WorkingDays)*24, p.CriticalPathHours, "no schedule beats the longest chain")
	}
}

// Work that fills whole days ends with the last one's hours, not with the next morning.
func TestWorkThatFillsDaysEndsInTheEvening(t *testing.T) {
	t.Parallel()
	b := bench{day: 8 * 6000}
	require.Equal(t, b.day, b.end(0, b.day))
	require.Equal(t, clockDay+b.day, b.end(0, 2*b.day))
	require.Equal(t, 2*clockDay+b.day, b.end(6000, 3*b.day-6000))
	require.EqualValues(t, 2*clockDay+1, b.end(0, 2*b.day+1))
}

// A wait belongs to its step: what leads to a step that must dry is critical by its work and its wait, a shorter chain
// is not.
func TestWaitsAreOnTheCriticalPath(t *testing.T) {
	t.Parallel()
	steps := []Step{{Number: 1}, {Number: 2, After: []int{1}}, {Number: 3, After: []int{1}},
		{Number: 4, After: []int{2, 3}}}
	spans := []span{{work: 60}, {work: 30, wait: 120}, {work: 140}, {work: 10}}
	require.EqualValues(t, 60+30+120+10, criticalPath(steps, spans))
	for i, want := range []bool{true, true, false, true} {
		require.Equal(t, want, steps[i].Critical, "step %d", i+1)
	}
}
