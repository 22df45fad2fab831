package days

import (
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/labour"
	"seamwright/store/storetest/goldentest"
)

// However many days a plan takes, the lines between them can be told apart and every one that is named has its line.
func TestTheDaysCanBeToldApart(t *testing.T) {
	t.Parallel()
	lines := regexp.MustCompile(`<(?:line|path)[^>]*?(?:x1="|d="M)([0-9.]+)`)
	for _, days := range []int{1, 10, 40, 120, 293, 700} {
		plan := &labour.Plan{WorkingDays: days, Steps: []labour.Step{{Number: 1, Name: "Carry in", Day: 1},
			{Number: 2, Name: "Hand over", Day: days}}}
		pictures := Draw(plan, Options{Width: 174, Height: 62, ID: "days"})
		require.Len(t, pictures, 1)
		before, count := -100.0, 0
		for _, found := range lines.FindAllStringSubmatch(string(pictures[0]), -1) {
			x, err := strconv.ParseFloat(found[1], 64)
			require.NoError(t, err)
			if x < names || x == before {
				continue
			}
			require.Greater(t, x-before, 1.4, "%d days", days)
			before = x
			count++
		}
		require.GreaterOrEqual(t, count, 2, "%d days", days)
		require.Contains(t, string(pictures[0]), ">day 1<")
	}
}

// bars are where a picture's bars begin and end, the filled ones (work) and the white ones (waiting).
func bars(t *testing.T, picture []byte) map[string][][2]float64 {
	t.Helper()
	list := map[string][][2]float64{}
	for _, found := range regexp.MustCompile(`<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)"[^>]*fill="(#\w+)" stroke`).
		FindAllStringSubmatch(string(picture), -1) {
		x, err := strconv.ParseFloat(found[1], 64)
		require.NoError(t, err)
		w, err := strconv.ParseFloat(found[2], 64)
		require.NoError(t, err)
		list[found[3]] = append(list[found[3]], [2]float64{x, x + w})
	}
	return list
}

// At ten days of 10 mm: half a day's work is 5 mm long and stands after what was begun on its day; a wait of a day is 10 mm and
// follows its work; nothing goes past the last day, and a day that is full already still begins its work before the next.
func TestBarsAreAsLongAsTheirHours(t *testing.T) {
	t.Parallel()
	hours := func(h float64) labour.Minutes { return labour.Minutes{Expected: 60 * h} }
	plan := &labour.Plan{WorkingDays: 10, Steps: []labour.Step{
		{Number: 1, Name: "Saw", Day: 1, Minutes: hours(4)},
		{Number: 2, Name: "Glue", Day: 1, Minutes: hours(2), WaitHours: 24},
		{Number: 3, Name: "Plane", Day: 3, Minutes: hours(8)},
		{Number: 4, Name: "Sand", Day: 3, Minutes: hours(2)},
		{Number: 5, Name: "Wipe", Day: 6, Minutes: hours(4), WaitHours: 0.96},
		{Number: 6, Name: "Oil", Day: 10, Minutes: hours(4), WaitHours: 240}}}
	pictures := Draw(plan, Options{Width: names + 101, Height: 62, ID: "days"})
	require.Len(t, pictures, 1)
	got := bars(t, pictures[0])
	near := func(want, got [][2]float64) {
		require.Len(t, got, len(want))
		for i := range want {
			require.InDelta(t, want[i][0], got[i][0]-names, 0.01)
			require.InDelta(t, want[i][1], got[i][1]-names, 0.02)
		}
	}
	near([][2]float64{{0, 5}, {5, 7.5}, {20, 30}, {29.5, 32}, {50, 55}, {90, 95}}, got["#1c1c1c"])
	near([][2]float64{{7.5, 17.5}, {55, 55.4}, {95, 100}}, got["#ffffff"])
}

// A plan that promises no days is as long as its last step's day, and says so in its key and its description; one of no steps is drawn
// as well.
func TestNoDaysArePromised(t *testing.T) {
	t.Parallel()
	plan := &labour.Plan{WorkingDays: 2, Steps: []labour.Step{{Number: 1, Name: "Saw", Day: 1}, {Number: 2, Name: "Oil", Day: 40}}}
	plan.NoPromise = "The wood is too wet."
	o := Options{Width: 174, Height: 62, ID: "days"}
	resting := string(Draw(plan, o)[0])
	require.Contains(t, resting, "2 steps. The wood is too wet.")
	require.Contains(t, resting, "No days are promised")
	for kind, list := range bars(t, []byte(resting)) {
		for _, b := range list {
			require.LessOrEqual(t, b[1], 174.0, kind)
		}
	}
	plan.NoPromise, plan.WorkingDays = "", 40
	promised := string(Draw(plan, o)[0])
	require.Contains(t, promised, "2 steps over 40 working days.")
	require.NotContains(t, promised, "No days are promised")
	require.Equal(t, bars(t, []byte(promised)), bars(t, []byte(resting)), "on the same days")
	require.Len(t, Draw(&labour.Plan{}, o), 1)
}

// The golden chart, in two parts, was looked at.
func TestTheGoldenChart(t *testing.T) {
	t.Parallel()
	plan := &labour.Plan{WorkingDays: 12}
	for n := range 14 {
		plan.Steps = append(plan.Steps, labour.Step{Number: n + 1, Name: "A step of this test whose name takes two lines of the chart",
			Day: 1 + n*11/13, Minutes: labour.Minutes{Expected: float64(40 + 35*n)}, WaitHours: float64(n % 3 * 16), Critical: n%2 == 0})
	}
	for i, got := range Draw(plan, Options{Width: 174, Height: 100, ID: "days"}) {
		path := "testdata/part_" + strconv.Itoa(i+1) + ".svg"
		goldentest.Hold(t, path, got)
	}
}

// The steps are shared out evenly over as few parts as there must be.
func TestNoStepStandsAlone(t *testing.T) {
	t.Parallel()
	step := regexp.MustCompile(`text-anchor="end">\d+<`)
	for steps := 1; steps <= 45; steps++ {
		plan := &labour.Plan{WorkingDays: 10}
		for n := range steps {
			plan.Steps = append(plan.Steps, labour.Step{Number: n + 1, Name: "Step", Day: 1})
		}
		o := Options{Width: 174, Height: 62, ID: "days"}
		pictures, all, least := Draw(plan, o), 0, steps
		for _, picture := range pictures {
			n := len(step.FindAllString(string(picture), -1))
			all, least = all+n, min(least, n)
		}
		require.Equal(t, steps, all)
		require.Len(t, pictures, (steps+8)/9, "nine lines have room in a part")
		require.True(t, len(pictures) == 1 || least > 1, "%d steps", steps)
	}
}
