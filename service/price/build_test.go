package price

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"seamwright/service/fault"
	"seamwright/service/money"
)

func amount(t testing.TB, s string) money.Amount {
	t.Helper()
	a, err := money.ParseAmount(s)
	require.NoError(t, err)
	return a
}

func rate(t testing.TB, s string) money.Rate {
	t.Helper()
	r, err := money.ParseRate(s)
	require.NoError(t, err)
	return r
}

// "Mark up percentage", small-business column, The Arizona Republic: the four examples. The cost of the second,
// which is printed in percentages alone, is ours.
func TestPublishedMarkupsAndMargins(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		cost   string
		basis  Basis
		rate   string
		net    string
		margin float64 // of the price, percent
	}{
		{"10.00", Markup, "25", "12.50", 20},
		{"10.00", Markup, "300", "40.00", 75},
		{"10.00", Margin, "20", "12.50", 20},
		{"10.00", Markup, "200", "30.00", 200. / 3},
	} {
		p, err := Build(Costs{Materials: amount(t, c.cost)}, Terms{Basis: c.basis, Rate: rate(t, c.rate)})
		require.NoError(t, err)
		require.Equal(t, c.net, p.Net.String())
		require.InDelta(t, c.margin, p.Margin.Float()/p.Net.Float()*100, 1e-9)
	}
}

func TestABuildUpLineByLine(t *testing.T) {
	t.Parallel()
	p, err := Build(Costs{
		Materials: amount(t, "725.20"), Hardware: amount(t, "38.15"), Consumables: amount(t, "61.40"),
		Labour: amount(t, "1402.27"),
	}, Terms{
		Overhead: rate(t, "18"), Contingency: rate(t, "5"), Basis: Margin, Rate: rate(t, "35"), Tax: rate(t, "7.5"),
		RoundTo: amount(t, "5"), Deposit: rate(t, "50"),
	})
	require.NoError(t, err)
	require.Equal(t, "400.86", p.Overhead.String())    // 18 % of 2227.02: 400.8636
	require.Equal(t, "111.35", p.Contingency.String()) // 5 %: 111.351
	require.Equal(t, "2739.23", p.Cost.String())
	require.Equal(t, "4215.00", p.Net.String()) // 2739.23 / 0.65 = 4214.20
	require.Equal(t, "1475.77", p.Margin.String())
	require.Equal(t, "316.13", p.Tax.String()) // 316.125
	require.Equal(t, "4531.13", p.Total.String())
	require.Equal(t, "2265.57", p.Deposit.String()) // 2265.565
	require.Equal(t, Range{p.Total, p.Total, p.Total}, p.Range)
	require.Equal(t, Margin, p.Basis)
	require.Equal(t, "35", p.Rate.String())
	require.Equal(t, "7.5", p.TaxRate.String())
}

func TestTheNetPriceIsRoundedToTheStepButNeverUnderTheCost(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ cost, markup, step, net string }{
		{"100.00", "10", "0.05", "110.00"},
		{"100.03", "0", "0.05", "100.05"},
		{"100.02", "0", "0.05", "100.05"}, // 100.00 would be a loss
		{"140.00", "0", "100", "200.00"},  // 100.00 too
		{"140.00", "20", "100", "200.00"}, // and for 168
		{"140.00", "40", "100", "200.00"}, // 196
		{"160.00", "50", "100", "200.00"}, // 240
		{"125.00", "20", "100", "200.00"}, // 150: half away from zero
		{"33.33", "33.3", "0", "44.43"},   // 44.42889: the cent at least
		{"33.33", "33.3", "0.001", "44.43"},
		{"33.33", "33.3", "0.015", "44.43"}, // 44.43 is 2962 steps
		{"0.00", "50", "5", "0.00"},
	} {
		p, err := Build(Costs{Labour: amount(t, c.cost)}, Terms{Basis: Markup, Rate: rate(t, c.markup),
			RoundTo: amount(t, c.step)})
		require.NoError(t, err)
		require.Equal(t, c.net, p.Net.String(), "%+v", c)
		require.False(t, p.Margin.IsNegative())
	}
}

func TestImpossibleTermsAreRefusedWithTheirPlace(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		change   func(*Terms)
		pointers []string
	}{
		"margin of 100 %":   {func(x *Terms) { x.Rate = rate(t, "100") }, []string{"/rate"}},
		"margin over 100 %": {func(x *Terms) { x.Rate = rate(t, "250") }, []string{"/rate"}},
		"negative margin":   {func(x *Terms) { x.Rate = rate(t, "-1") }, []string{"/rate"}},
		"negative mark-up":  {func(x *Terms) { x.Basis, x.Rate = Markup, rate(t, "-0.01") }, []string{"/rate"}},
		"all other rates": {func(x *Terms) {
			x.Tax, x.Deposit, x.Overhead, x.Contingency = rate(t, "-1"), rate(t, "-1"), rate(t, "-1"), rate(t, "-1")
		}, []string{"/contingency", "/deposit", "/overhead", "/tax"}},
		"no basis":             {func(x *Terms) { x.Basis = "" }, []string{"/basis"}},
		"no basis and no rate": {func(x *Terms) { x.Basis, x.Rate = "both", rate(t, "-5") }, []string{"/basis", "/rate"}},
	} {
		terms := Terms{Basis: Margin, Rate: rate(t, "35")}
		c.change(&terms)
		_, err := Build(Costs{Labour: amount(t, "100")}, terms)
		var pointers []string
		for _, f := range fault.All(err) {
			require.Equal(t, fault.Impossible, f.Kind, name)
			require.NotEmpty(t, f.Fix, name)
			pointers = append(pointers, f.Pointer)
		}
		require.Equal(t, c.pointers, pointers, name)
	}
	_, err := Build(Costs{Labour: amount(t, "100")}, Terms{Basis: Markup, Rate: rate(t, "250")})
	require.NoError(t, err, "a mark-up may be over 100 %%")
}

func TestImpossibleCostsAreTheCallersFault(t *testing.T) {
	t.Parallel()
	for _, c := range []Costs{
		{Labour: amount(t, "-0.01")}, {Materials: amount(t, "-1")},
		{LabourDeviation: -1}, {WoodDeviation: -1}, {WoodDeviation: math.NaN()}, {WoodDeviation: math.Inf(1)}, {LabourDeviation: math.NaN()},
		{LabourDeviation: 10, LabourThird: 2001}, {LabourDeviation: 10, LabourThird: -2001}, {LabourThird: 1}, {LabourDeviation: 1, LabourThird: math.NaN()},
	} {
		_, err := Build(c, Terms{Basis: Markup})
		require.Error(t, err)
		require.Equal(t, fault.Internal, fault.All(err)[0].Kind)
	}
	_, err := Build(Costs{LabourDeviation: 10, LabourThird: 2000}, Terms{Basis: Markup})
	require.NoError(t, err, "twice the cube of the deviation may be")
}

func TestQuantilesAreThoseOfTheNormalDistribution(t *testing.T) {
	t.Parallel()
	require.InDelta(t, z80, distuv.UnitNormal.Quantile(0.8), 1e-10)
	require.InDelta(t, z90, distuv.UnitNormal.Quantile(0.9), 1e-10)
}

func TestTheRangeRunsThroughTheSameBuildUp(t *testing.T) {
	t.Parallel()
	costs := Costs{Labour: amount(t, "1000"), LabourDeviation: 30, WoodDeviation: 40} // together 50
	terms := Terms{Overhead: rate(t, "10"), Basis: Markup, Rate: rate(t, "50"), Tax: rate(t, "20")}
	p, err := Build(costs, terms)
	require.NoError(t, err)
	require.Equal(t, "1980.00", p.Range.P50.String())
	require.Equal(t, p.Total, p.Range.P50)
	require.Equal(t, "2063.33", p.Range.P80.String()) // (1042.08 + 104.21) · 1.5 = 1719.435 → 1719.44, + 343.89
	require.Equal(t, "2106.89", p.Range.P90.String()) // (1064.08 + 106.41) · 1.5 = 1755.735 → 1755.74, + 351.15
}

// Worked by hand from Cornish and Fisher's expansion at whole z, where x = z + (z² − 1)·γ/6 − (2z³ − 5z)·γ²/36 is a
// fraction.
func TestQuantilesOfASkewedVariable(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ z, skewness, want float64 }{
		{0, 0.6, -0.1}, {1, 1, 1 + 3.0/36}, {1, -1, 1 + 3.0/36}, {2, 0.5, 2 + 0.25 - 1.5/36}, {2, 1, 2 + 0.5 - 6.0/36}, {2, -1, 2 - 0.5 - 6.0/36},
		{2, 1.04, 2 + 0.5 - 6.0/36}, {2, 5, 2 + 0.5 - 6.0/36}, {2, -1.04, 2 - 0.5 - 6.0/36}, // beyond ±1 as at ±1
	} {
		require.InDelta(t, c.want, quantile(c.z, c.skewness), 1e-12, "z %g, γ %g", c.z, c.skewness)
	}
}

// A third moment of half the cube of the deviation is a skewness of a half: the median lies σ/12 under the mean, and by
// hand from z₈₀ = 0.84162 the 80 % quantile is 0.83826 σ over it, from z₉₀ = 1.28155 the other 1.35035 σ.
func TestTheRangeOfSkewedLabour(t *testing.T) {
	t.Parallel()
	p, err := Build(Costs{Labour: amount(t, "1000"), LabourDeviation: 50, LabourThird: 62500}, Terms{Basis: Markup})
	require.NoError(t, err)
	require.Equal(t, "995.83", p.Range.P50.String())
	require.Equal(t, "1041.91", p.Range.P80.String())
	require.Equal(t, "1067.52", p.Range.P90.String())
}

// A step under a cent is the cent: 10.0045 would be 10.01 by way of steps of 0.003. Without a step every cost is its
// own price.
func TestAStepUnderACentIsTheCent(t *testing.T) {
	t.Parallel()
	p, err := Build(Costs{Labour: amount(t, "8.17")}, Terms{Basis: Markup, Rate: rate(t, "22.4541"),
		RoundTo: amount(t, "0.003")})
	require.NoError(t, err)
	require.Equal(t, "10.00", p.Net.String(), "8.17 · 1.224541 = 10.0045")
	for cents := 1; cents <= 200; cents++ {
		cost := money.RoundAmount(float64(cents) / 100)
		p, err := Build(Costs{Labour: cost}, Terms{Basis: Markup})
		require.NoError(t, err)
		require.Equal(t, cost.String(), p.Net.String())
	}
}

// A skewed spread about next to nothing has its median under nothing: nobody is paid for work.
func TestTheRangeIsNeverUnderNothing(t *testing.T) {
	t.Parallel()
	p, err := Build(Costs{Labour: amount(t, "1"), LabourDeviation: 100, LabourThird: 1e6}, Terms{Basis: Markup})
	require.NoError(t, err)
	require.Equal(t, "0.00", p.Range.P50.String(), "1 − 100/6")
	require.Equal(t, "1.00", p.Total.String())
	require.Positive(t, p.Range.P80.Cmp(p.Range.P50))
}

func drawAmount(t *rapid.T, name string) money.Amount {
	return money.RoundAmount(float64(rapid.IntRange(0, 5_000_000).Draw(t, name)) / 100)
}

func drawRate(t *rapid.T, name string, most int) money.Rate {
	r, err := money.ParseRate(money.RoundQuantity(float64(rapid.IntRange(0, most*100).Draw(t, name))/100, 2).String())
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestLinesAddUpAndTheRangeIsInOrder(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		c := Costs{
			Materials: drawAmount(t, "materials"), Hardware: drawAmount(t, "hardware"),
			Consumables: drawAmount(t, "consumables"), Labour: drawAmount(t, "labour"),
			LabourDeviation: rapid.Float64Range(0, 5000).Draw(t, "labour deviation"),
			WoodDeviation:   rapid.Float64Range(0, 5000).Draw(t, "wood deviation"),
		}
		if rapid.Bool().Draw(t, "certain") {
			c.LabourDeviation, c.WoodDeviation = 0, 0
		}
		terms := Terms{
			Overhead: drawRate(t, "overhead", 300), Contingency: drawRate(t, "contingency", 100),
			Basis: rapid.SampledFrom([]Basis{Margin, Markup}).Draw(t, "basis"), Rate: drawRate(t, "rate", 99),
			Tax: drawRate(t, "tax", 50), Deposit: drawRate(t, "deposit", 100),
			RoundTo: money.RoundAmount(rapid.SampledFrom([]float64{0, 0.01, 0.05, 1, 5, 1000}).Draw(t, "step")),
		}
		terms.TotalTo = money.RoundAmount(rapid.SampledFrom([]float64{0, 0, 0.01, 0.5, 5, 1000}).Draw(t, "step of the total"))
		p, err := Build(c, terms)
		require.NoError(t, err)
		cost := p.Materials.Plus(p.Hardware).Plus(p.Consumables).Plus(p.Labour).Plus(p.Overhead).Plus(p.Contingency)
		require.Zero(t, cost.Cmp(p.Cost))
		require.Zero(t, p.Cost.Plus(p.Margin).Cmp(p.Net))
		require.Zero(t, p.Net.Plus(p.Tax).Cmp(p.Total))
		require.False(t, p.Margin.IsNegative())
		require.LessOrEqual(t, p.Deposit.Cmp(p.Total), 0)
		for _, a := range []money.Amount{p.Overhead, p.Contingency, p.Cost, p.Margin, p.Net, p.Tax, p.Total, p.Deposit,
			p.Range.P50, p.Range.P80, p.Range.P90} {
			require.Zero(t, a.Cmp(a.Round(2)), "%s has parts of a cent", a)
		}
		if terms.TotalTo.IsZero() {
			require.Zero(t, p.Net.Cmp(p.Net.RoundToStep(terms.RoundTo)), "%s is no multiple of %s", p.Net, terms.RoundTo)
		}
		require.Zero(t, p.Total.Cmp(p.Total.RoundToStep(terms.TotalTo)), "%s is no multiple of %s", p.Total, terms.TotalTo)
		require.Zero(t, p.Range.P50.Cmp(p.Total))
		require.LessOrEqual(t, p.Range.P50.Cmp(p.Range.P80), 0)
		require.LessOrEqual(t, p.Range.P80.Cmp(p.Range.P90), 0)
		if c.LabourDeviation == 0 && c.WoodDeviation == 0 {
			require.Zero(t, p.Range.P90.Cmp(p.Total))
		}
	})
}

// A total that is told with tax is rounded as a whole; its tax is what stands in it, worked out here by hand:
// 6618.75 → 6620.00 at 7.5 %: 6620 · 7.5 / 107.5 = 461.860… and 6158.14 net.
func TestTheTotalIsRoundedAsItIsTold(t *testing.T) {
	t.Parallel()
	costs := Costs{Labour: amount(t, "4104.65")}
	terms := Terms{Basis: Markup, Rate: rate(t, "50"), Tax: rate(t, "7.5"), TotalTo: amount(t, "5.00")}
	p, err := Build(costs, terms)
	require.NoError(t, err)
	require.Equal(t, []string{"6620.00", "461.86", "6158.14", "2053.49"},
		[]string{p.Total.Round(2).String(), p.Tax.String(), p.Net.String(), p.Margin.String()})
	terms.TotalTo = money.Zero
	p, err = Build(costs, terms)
	require.NoError(t, err)
	require.Equal(t, "6618.75", p.Total.String())
	terms.Rate, terms.TotalTo = rate(t, "0"), amount(t, "100") // 4104.65 with tax is 4412.50: 4400.00 would lie under the cost
	p, err = Build(costs, terms)
	require.NoError(t, err)
	require.Equal(t, []string{"4500.00", "313.95", "4186.05"}, []string{p.Total.String(), p.Tax.String(), p.Net.String()})
}

func BenchmarkBuild(b *testing.B) {
	costs := Costs{Materials: amount(b, "725.20"), Hardware: amount(b, "38.15"), Labour: amount(b, "1402.27"),
		LabourDeviation: 80, WoodDeviation: 50}
	terms := Terms{Overhead: rate(b, "18"), Contingency: rate(b, "5"), Basis: Margin, Rate: rate(b, "35"),
		Tax: rate(b, "7.5"), RoundTo: amount(b, "0.01"), Deposit: rate(b, "50")}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Build(costs, terms); err != nil {
			b.Fatal(err)
		}
	}
}
