package days

import (
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/labour"
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
