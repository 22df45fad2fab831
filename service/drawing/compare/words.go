package compare

import (
	"slices"
	"strconv"
	"strings"

	"seamwright/service/estimate"
	"seamwright/service/joint"
	"seamwright/service/measure"
)

func trimmed(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// title names a joint, with the run that goes through.
func (p *picture) title(c int, k *estimate.Candidate) string {
	kind := strings.ReplaceAll(p.in.Say(k.Joint.Kind.Name()), "'", "’")
	kind = strings.ToUpper(kind[:1]) + kind[1:]
	if run := k.Joint.ThroughRun(p.name(c), p.name(c+1)); run != "" {
		return p.in.Say("%s, %s goes through", kind, run)
	}
	return kind
}

// standing says how a candidate came off.
func (p *picture) standing(c int, k *estimate.Candidate) string {
	points := p.in.Say("%s points", p.minus(k.Score))
	if k.Score == 1 || k.Score == -1 {
		points = p.in.Say("%s point", p.minus(k.Score))
	}
	switch {
	case k.Joint == p.e.Corners[c].Chosen:
		return p.in.Say("Chosen, %s", points)
	case k.Feasible:
		return points
	case k.Hardware.Reason != "" && !k.Hardware.Feasible:
		return p.in.Say("Cannot be made: %s", p.told(k.Hardware.Reason))
	}
	return p.in.Say("Excluded")
}

// minus is a whole number with the sign that is written in sums.
func (p *picture) minus(n int) string { return strings.Replace(strconv.Itoa(n), "-", "−", 1) }

// facts are the figures of a candidate, each with its name.
func (p *picture) facts(k *estimate.Candidate) [][2]string {
	var list [][2]string
	add := func(name, figure string) { list = append(list, [2]string{name, figure}) }
	phrase := func(l measure.Length) string { return p.in.Phrase(l.Phrase(p.e.Units)) }
	if k.Geometry.SeamLength > 0 {
		add(p.in.Say("seam"), phrase(k.Geometry.SeamLength))
	}
	opens := k.Movement.Opening()
	slides := max(size(k.Movement.Dry.MaxSlip), size(k.Movement.Humid.MaxSlip))
	if len(k.Geometry.SeamPath) > 1 {
		if k.Movement.Restrained {
			add(p.in.Say("opens up to"), phrase(opens))
		} else {
			add(p.in.Say("would open up to"), phrase(opens))
		}
		add(p.in.Say("slides up to"), phrase(slides))
	}
	if n := pulls(k); n > 0 {
		add(p.in.Say("pull parts"), strconv.Itoa(n))
	}
	if k.Hardware.Pull.Capacity > 0 {
		add(p.in.Say("they hold"), p.in.Phrase(force(k.Hardware.Pull.Capacity, p.e.Units)))
	}
	if s := k.Strain; s.Strength > 0 {
		add(p.in.Say("glued, of its strength"), trimmed(measure.Round(float64(s.Stress)/float64(s.Strength)*100, 0))+" %")
	}
	if k.Feasible {
		add(p.in.Say("hours"), p.in.Amount(trimmed(measure.Round(k.LabourHours, 1))))
		add(p.in.Say("cost"), p.in.Amount(k.Cost.String())+" "+p.e.Currency)
		if !k.CostDifference.IsZero() {
			add(p.in.Say("against the chosen"), signed(p.in.Amount(k.CostDifference.String())))
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

func (p *picture) reasons(k *estimate.Candidate) []string {
	list := slices.Clone(k.Findings)
	slices.SortStableFunc(list, func(a, b joint.Finding) int { return weight(b) - weight(a) })
	var out []string
	for _, f := range list[:min(len(list), mostReasons)] {
		sign := map[joint.Effect]string{joint.For: "+ ", joint.Against: "− ", joint.Excludes: "× "}[f.Effect]
		if f.Effect == joint.For && f.Points == 0 {
			sign = "· "
		}
		out = append(out, sign+p.told(f.Text))
	}
	return out
}

func weight(f joint.Finding) int {
	if f.Effect == joint.Excludes || f.Rule == joint.Site && f.Points == 0 { // that a piece would be divided says what the cost leaves out
		return 1 << 20
	}
	return max(f.Points, -f.Points)
}
