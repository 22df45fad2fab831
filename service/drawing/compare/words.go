package compare

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"seamwright/service/estimate"
	"seamwright/service/joint"
	"seamwright/service/measure"
)

func trimmed(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// title names a joint, with the run that goes through.
func title(e *estimate.Estimate, c int, k *estimate.Candidate) string {
	kind := strings.ReplaceAll(k.Joint.Kind.Name(), "'", "’")
	kind = strings.ToUpper(kind[:1]) + kind[1:]
	if run := k.Joint.ThroughRun(name(e, c), name(e, c+1)); run != "" {
		return kind + ", " + run + " goes through"
	}
	return kind
}

// standing says how a candidate came off.
func standing(e *estimate.Estimate, c int, k *estimate.Candidate) string {
	points := fmt.Sprintf("%d points", k.Score)
	if k.Score == 1 || k.Score == -1 {
		points = fmt.Sprintf("%d point", k.Score)
	}
	switch {
	case k.Joint == e.Corners[c].Chosen:
		return "Chosen, " + points
	case k.Feasible:
		return points
	case k.Hardware.Reason != "" && !k.Hardware.Feasible:
		return "Cannot be made: " + k.Hardware.Reason
	}
	return "Excluded"
}

// facts are the figures of a candidate, each with its name.
func facts(e *estimate.Estimate, k *estimate.Candidate) [][2]string {
	var list [][2]string
	add := func(name, figure string) { list = append(list, [2]string{name, figure}) }
	if k.Geometry.SeamLength > 0 {
		add("seam", k.Geometry.SeamLength.Phrase(e.Units))
	}
	opens := max(size(k.Movement.Dry.MaxOpening), size(k.Movement.Humid.MaxOpening))
	slides := max(size(k.Movement.Dry.MaxSlip), size(k.Movement.Humid.MaxSlip))
	if len(k.Geometry.SeamPath) > 1 {
		add("would open up to", opens.Phrase(e.Units))
		add("slides up to", slides.Phrase(e.Units))
	}
	if n := pulls(k); n > 0 {
		add("pull parts", strconv.Itoa(n))
	}
	if k.Hardware.Pull.Capacity > 0 {
		add("they hold", force(k.Hardware.Pull.Capacity, e.Units))
	}
	if s := k.Strain; s.Strength > 0 {
		add("glued, of its strength", trimmed(measure.Round(float64(s.Stress)/float64(s.Strength)*100, 0))+" %")
	}
	if k.Feasible {
		add("hours", trimmed(measure.Round(k.LabourHours, 1)))
		add("cost", k.Cost.String()+" "+e.Currency)
		if !k.CostDifference.IsZero() {
			add("against the chosen", signed(k.CostDifference.String()))
		}
	}
	return list
}

func size(l measure.Length) measure.Length { return max(l, -l) }

func pulls(k *estimate.Candidate) (n int) {
	for i := range k.Hardware.Pull.Groups {
		n += k.Hardware.Pull.Groups[i].Count
	}
	return n
}

func force(f measure.Force, units measure.System) string {
	unit := " N"
	if units == measure.Inches {
		unit = " lbf"
	}
	return trimmed(measure.Round(f.Number(units), 0)) + unit
}

func signed(amount string) string {
	if strings.HasPrefix(amount, "-") {
		return "−" + amount[1:]
	}
	return "+" + amount
}

// mostReasons is how many findings a card shows: those that weigh most.
const mostReasons = 4

func reasons(k *estimate.Candidate) []string {
	list := slices.Clone(k.Findings)
	slices.SortStableFunc(list, func(a, b joint.Finding) int { return weight(b) - weight(a) })
	var out []string
	for _, f := range list[:min(len(list), mostReasons)] {
		sign := map[joint.Effect]string{joint.For: "+ ", joint.Against: "− ", joint.Excludes: "× "}[f.Effect]
		if f.Effect == joint.For && f.Points == 0 {
			sign = "· "
		}
		out = append(out, sign+f.Text)
	}
	return out
}

func weight(f joint.Finding) int {
	if f.Effect == joint.Excludes {
		return 1 << 20
	}
	return max(f.Points, -f.Points)
}
