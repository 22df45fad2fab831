package labour

import (
	"fmt"
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/money"
)

// Expected is the mean of a time of which the low, the likely and the high value are known:
//
//	(low + 4·likely + high) / 6
//
// Source: D. G. Malcolm, J. H. Roseboom, C. E. Clark, W. Fazar, Application of a Technique for Research and
// Development Program Evaluation, Operations Research 7 (1959): the PERT approximation.
func Expected(s catalogue.Spread) float64 { return (s.Low + 4*s.Likely + s.High) / 6 } // PERT 1959, mean

// Variance is the variance of such a time: ((high − low)/6)². Source: as Expected.
func Variance(s catalogue.Spread) float64 {
	d := (s.High - s.Low) / 6 // PERT 1959, deviation
	return d * d
}

// mostMinutes is far above what any step takes, and keeps sums of hundredths exact.
const mostMinutes = 1e9

// effort is what one standard comes to for one job that needs it.
type effort struct {
	standard *catalogue.LabourStandard
	role     *catalogue.LabourRole
	asked
	minutes  Minutes
	variance float64
	work     int64 // expected minutes in hundredths
	amount   money.Amount
}

// reckon works out one standard: the setup, and each driver unit times the factors; the expected minutes rounded to
// a hundredth, times the crew, at the role's rate, rounded to the cent. Errors name the standard.
func (e *effort) reckon(a asked, s *catalogue.LabourStandard, f *factors, role *catalogue.LabourRole,
	rate *money.Hourly) error {
	running, whole := f.on(s)
	m := catalogue.Spread{
		Low:    (s.Setup.Low + s.Each.Low*a.units*running) * whole,
		Likely: (s.Setup.Likely + s.Each.Likely*a.units*running) * whole,
		High:   (s.Setup.High + s.Each.High*a.units*running) * whole,
	}
	if err := check(s, &m, a.wait, role); err != nil {
		return fmt.Errorf("labour standard %s: %w", s.Code, err)
	}
	*e = effort{standard: s, role: role, asked: a, variance: Variance(m)}
	// A computed half such as 12.345 may lie a hair under it: settle it at a millionth of a hundredth.
	e.work = int64(math.Floor(Expected(m)*100 + 0.5 + 1e-6))
	e.minutes = Minutes{Low: m.Low, Likely: m.Likely, High: m.High, Expected: float64(e.work) / 100}
	e.amount = rate.Hundredths(e.persons())
	return nil
}

// persons returns the people's time in hundredths of a minute.
func (e *effort) persons() int64 { return e.work * int64(e.crew) }

// check refuses what would make nonsense of minutes, hours or money.
func check(s *catalogue.LabourStandard, m *catalogue.Spread, wait float64, role *catalogue.LabourRole) error {
	switch {
	case role == nil:
		return fmt.Errorf("unknown role %q", s.Role)
	case s.Crew < 1 || s.Crew > 100:
		return fmt.Errorf("a crew of %d; it must be 1 to 100", s.Crew)
	case !(m.Low >= 0 && m.Low <= m.Likely && m.Likely <= m.High && m.High <= mostMinutes):
		return fmt.Errorf("%g, %g and %g minutes; low, likely and high must be in this order, from 0 to %g", m.Low, m.Likely,
			m.High, mostMinutes)
	case !(wait >= 0 && wait <= mostMinutes/60):
		return fmt.Errorf("a wait of %g hours; it must be 0 to %g", wait, mostMinutes/60)
	}
	return nil
}
