package pricelist

import (
	"math/big"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/publishedtest"
)

func quantities(t testing.TB, texts ...string) []money.Quantity {
	t.Helper()
	list := make([]money.Quantity, len(texts))
	for i, s := range texts {
		q, err := money.ParseQuantity(s)
		require.NoError(t, err)
		list[i] = q
	}
	return list
}

// The items that tables below speak of.
func items(t testing.TB) map[string]Own {
	return map[string]Own{
		"screw":   {Unit: catalogue.Each, Packs: quantities(t, "1", "100", "500")},
		"biscuit": {Unit: catalogue.Each, Packs: quantities(t, "100", "500")},
		"bolt":    {Unit: catalogue.Each, Packs: quantities(t, "1")},
		"tape":    {Unit: catalogue.Metre, Packs: quantities(t, "50")},
		"glue":    {Unit: catalogue.Litre, Packs: quantities(t, "0.5", "1", "3.7854")},
		"oil":     {Unit: catalogue.Litre, Packs: quantities(t, "2.5")},
		"five": {Unit: catalogue.BoardFoot, Packs: quantities(t, "1"), RoughThickness: 1.25 * measure.Inch,
			WorkingWidth: 6 * measure.Inch},
		"unplaned": {Unit: catalogue.BoardFoot, Packs: quantities(t, "1")},
		"nothing":  {Unit: catalogue.Each},
	}
}

func TestPricesAreConverted(t *testing.T) {
	t.Parallel()
	own := items(t)
	for name, c := range map[string]struct {
		item          string
		row           Row
		size, price   string
		rounded       bool
		explainedHere string
	}{
		"each":                      {"bolt", Row{Price: "12.50", Per: Each}, "1", "12.5000", false, ""},
		"without a unit":            {"bolt", Row{Price: "12.50"}, "1", "12.5000", false, ""},
		"of three packs the single": {"screw", Row{Price: "0.12", Per: Each}, "1", "0.1200", false, ""},
		"hundred": {"screw", Row{Price: "9.80", Per: Hundred}, "100", "9.8000", false,
			"there is a pack of a hundred"},
		"thousand, pack named": {"screw", Row{Price: "75", Per: Thousand, PackOf: "500"}, "500", "37.5000", false, ""},
		"each, pack named": {"biscuit", Row{Price: "0.0985", Per: Each, PackOf: "100.0"}, "100", "9.8500", false,
			""},
		"the only pack": {"bolt", Row{Price: "35.72", Per: Pack}, "1", "35.7200", false, ""},
		"pack": {"biscuit", Row{Price: "35.72", Per: Pack, PackOf: "500"}, "500", "35.7200", false,
			""},
		"thousand to the only pack": {"bolt", Row{Price: "1234.5", Per: Thousand}, "1", "1.2345", false, ""},
		"half a ten-thousandth up":  {"bolt", Row{Price: "1234.55", Per: Thousand}, "1", "1.2346", true, "1.23455"},
		"and down below nothing": {"bolt", Row{Price: "-1234.55", Per: Thousand}, "1", "-1.2346", true,
			"away from zero"},
		"nothing": {"bolt", Row{Price: "0.000", Per: Thousand}, "1", "0.0000", false,
			"for the guard rails"},
		"the dearest":         {"bolt", Row{Price: "100000000", Per: Each}, "1", "100000000.0000", false, ""},
		"board foot":          {"five", Row{Price: "7.25", Per: BoardFoot}, "1", "7.2500", false, ""},
		"thousand board feet": {"five", Row{Price: "7250", Per: ThousandBoardFeet}, "1", "7.2500", false, ""},
		"cubic metre": {"unplaned", Row{Price: "3072.38", Per: CubicMetre}, "1", "7.2500", true,
			"3072.38 · 0.002359737216 = 7.25000942…"},
		"square foot of 5/4": {"five", Row{Price: "10", Per: SquareFoot}, "1", "8.0000", false, "1.25 board feet"},
		"square metre of 5/4": {"five", Row{Price: "100", Per: SquareMetre}, "1", "7.4322", true,
			"a square metre is 10.7639104 square feet: 100 / 13.454888 = 7.43224…"},
		"running foot of 5/4 x 6": {"five", Row{Price: "5", Per: RunningFoot}, "1", "8.0000", false, "0.625 board feet"},
		"running metre of 5/4 x 6": {"five", Row{Price: "12.5", Per: RunningMetre}, "1", "6.0960", false,
			"12.5 · 0.3048 / 0.625"},
		"running metre": {"tape", Row{Price: "0.43", Per: RunningMetre}, "50", "21.5000", false, ""},
		"running foot": {"tape", Row{Price: "0.30", Per: RunningFoot}, "50", "49.2126", true,
			"15 / 0.3048 = 49.21259…"},
		"litre":             {"glue", Row{Price: "18", Per: Litre}, "1", "18.0000", false, ""},
		"litre, pack named": {"glue", Row{Price: "18", Per: Litre, PackOf: "0.5"}, "0.5", "9.0000", false, ""},
		"gallon to the only pack": {"oil", Row{Price: "60", Per: Gallon}, "2.5", "39.6258", true,
			"150 / 3.785411784 = 39.62580785…"},
		"gallon, its pack named": {"glue", Row{Price: "60", Per: Gallon, PackOf: "3.7854"}, "3.7854", "59.9998", true,
			"the pack holds 3.7854 l, a gallon 3.785411784 l"},
		"a pack of the gallon, as is": {"glue", Row{Price: "60", Per: Pack, PackOf: "3.7854"}, "3.7854", "60.0000", false,
			""},
	} {
		got, rejection := Convert(&c.row, own[c.item])
		require.Nil(t, rejection, name)
		require.Equal(t, c.size, got.PackSize.String(), name)
		require.Equal(t, c.price, got.Price.String(), "%s %s", name, c.explainedHere)
		require.Equal(t, c.rounded, got.Rounded, name)
	}
}

func TestPricesThatDoNotFitTheItemAreRejected(t *testing.T) {
	t.Parallel()
	own := items(t)
	for name, c := range map[string]struct {
		item         string
		row          Row
		column, says string
	}{
		"a litre of screws": {"screw", Row{Price: "1", Per: Litre}, "per",
			"counted by the each: its prices are per each, hundred, thousand or pack"},
		"one of lumber": {"five", Row{Price: "1", Per: Each}, "per",
			"per board_foot, thousand_board_feet, cubic_metre, running_foot, running_metre, square_foot, square_metre or pack"},
		"lumber of no thickness": {"unplaned", Row{Price: "1", Per: SquareFoot}, "per",
			"per board_foot, thousand_board_feet, cubic_metre or pack"},
		"a cubic metre of glue": {"glue", Row{Price: "1", Per: CubicMetre}, "per", "per litre, gallon or pack"},
		"a pound of glue":       {"glue", Row{Price: "1", Per: Pound}, "per", "by mass would need its density"},
		"a kilogram of screws":  {"screw", Row{Price: "1", Per: Kilogram}, "per", "by mass would need its density"},
		"a square foot of tape": {"tape", Row{Price: "1", Per: SquareFoot}, "per",
			"per running_foot, running_metre or pack"},
		"a pack, which of two": {"biscuit", Row{Price: "1", Per: Pack}, "pack_of",
			"packs of 100 and 500: name one in pack_of"},
		"a pack of no packs":      {"nothing", Row{Price: "1", Per: Pack}, "pack_of", "no packs"},
		"a pack that is not sold": {"biscuit", Row{Price: "1", Per: Pack, PackOf: "250"}, "pack_of", "packs of 100 and 500"},
		"each, of no sold pack":   {"biscuit", Row{Price: "1", Per: Each, PackOf: "1"}, "pack_of", "packs of 100 and 500"},
		"which of two packs":      {"biscuit", Row{Price: "1", Per: Each}, "pack_of", "name one in pack_of"},
		"no packs":                {"nothing", Row{Price: "1", Per: Each}, "pack_of", "no packs"},
		"a pack of unknown size":  {"bolt", Row{Price: "1", Per: Pack, PackOf: "x"}, "pack_of", "not known"},
		"no price":                {"bolt", Row{Price: "", Per: Each}, "price", "plain decimal"},
		"a price with a comma":    {"bolt", Row{Price: "1,5", Per: Each}, "price", "plain decimal"},
		"too dear":                {"bolt", Row{Price: "100000000.0001", Per: Each}, "price", "over 100000000"},
		"far too dear": {"screw", Row{Price: "999999999999.999999", Per: Each, PackOf: "500"}, "price",
			"over 100000000"},
		"too little for four":      {"bolt", Row{Price: "5.99", Per: Thousand}, "price", "too small for the four decimals"},
		"nothing would be left":    {"bolt", Row{Price: "-0.01", Per: Thousand}, "price", "too small for the four decimals"},
		"a unit that is not known": {"bolt", Row{Price: "1", Per: "dozen"}, "per", "per each, hundred, thousand or pack"},
	} {
		c.row.Line = 7
		got, rejection := Convert(&c.row, own[c.item])
		require.NotNil(t, rejection, "%s gave %s", name, got.Price)
		require.Equal(t, 7, rejection.Line)
		require.Equal(t, c.column, rejection.Column, name)
		require.Contains(t, rejection.Reason, c.says, name)
	}
}

// rat is a fraction as an exact number.
func (r ratio) rat() *big.Rat {
	return new(big.Rat).SetFrac(new(big.Int).SetUint64(r.over), new(big.Int).SetUint64(r.under))
}

// content is a unit in another one, which may be one that lists do not use.
func content(t *testing.T, unit, in string) *big.Rat {
	inch := big.NewRat(254, 10_000) // metre
	cubicInch := new(big.Rat).Mul(inch, new(big.Rat).Mul(inch, inch))
	plain := func(name string) *big.Rat { // wood and liquids in cubic metres, the rest in the plain unit of its kind
		switch name {
		case "metre", "foot":
			name = "running_" + name
		case "cubic_inch":
			return cubicInch
		case "cubic_foot":
			return new(big.Rat).Mul(cubicInch, big.NewRat(1728, 1))
		}
		kind, size := Unit(name).size()
		require.NotEqual(t, otherKind, kind, name)
		switch kind {
		case woodKind:
			_, cubicMetre := CubicMetre.size()
			return new(big.Rat).Quo(size.rat(), cubicMetre.rat())
		case liquidKind:
			return new(big.Rat).Mul(size.rat(), big.NewRat(1, 1000))
		default:
			return size.rat()
		}
	}
	return new(big.Rat).Quo(plain(unit), plain(in))
}

func TestUnitsAreThoseOfPublishedTables(t *testing.T) {
	t.Parallel()
	read := 0
	for _, row := range publishedtest.Read(t, "nist_units.csv", 10) {
		if row.Read() {
			read++
		}
		printed, ok := new(big.Rat).SetString(row["printed"])
		require.True(t, ok)
		got := content(t, row["unit"], row["in"])
		if row["exact"] == "yes" {
			require.Zero(t, got.Cmp(printed), "%s in %s: %s, and %s in %s", row["unit"], row["in"], got.FloatString(12),
				row["printed"], row["source"])
			continue
		}
		mantissa, exponent, _ := strings.Cut(row["printed"], "E")
		_, places, _ := strings.Cut(mantissa, ".")
		power := 0
		if exponent != "" {
			var err error
			power, err = strconv.Atoi(exponent)
			require.NoError(t, err)
		}
		half := new(big.Rat).Quo(big.NewRat(1, 2),
			new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(len(places)-power)), nil)))
		off := new(big.Rat).Sub(got, printed)
		require.LessOrEqual(t, off.Abs(off).Cmp(half), 0, "%s in %s: %s is not %s to the last place printed (%s)",
			row["unit"], row["in"], got.FloatString(12), row["printed"], row["source"])
	}
	publishedtest.Compared(t, "nist_units.csv", read)
}

func anyOwn(t *rapid.T) Own {
	own := Own{Unit: rapid.SampledFrom([]catalogue.Unit{catalogue.Each, catalogue.BoardFoot, catalogue.Litre,
		catalogue.Metre}).Draw(t, "unit"),
		RoughThickness: measure.Length(rapid.IntRange(1, 500).Draw(t, "64ths")) * measure.Inch / 64,
		WorkingWidth:   measure.Length(rapid.IntRange(1, 3000).Draw(t, "tenths")) * measure.Millimetre / 10}
	size, err := money.ParseQuantity(rapid.StringMatching(`[1-9][0-9]{0,5}(\.[0-9]{1,4})?`).Draw(t, "pack"))
	if err != nil {
		t.Fatal(err)
	}
	own.Packs = []money.Quantity{size}
	return own
}

// exactly is the pack's price by the definitions, in fractions of any length, from lengths in decimal millimetres.
func exactly(t *rapid.T, row *Row, own *Own) *big.Rat {
	number := func(s string) *big.Rat {
		r, ok := new(big.Rat).SetString(s)
		require.True(t, ok, s)
		return r
	}
	mm := func(l measure.Length) *big.Rat { return number(strconv.FormatFloat(l.Millimetres(), 'f', 6, 64)) }
	foot, boardFoot := number("304.8"), number("2359737.216") // mm, mm³
	wood := func(factors ...*big.Rat) *big.Rat {
		v := big.NewRat(1, 1)
		for _, f := range factors {
			v.Mul(v, f)
		}
		return v.Quo(v, boardFoot)
	}
	lumber := own.Unit == catalogue.BoardFoot
	holds := map[Unit]*big.Rat{
		Each: number("1"), Hundred: number("100"), Thousand: number("1000"), BoardFoot: number("1"),
		ThousandBoardFeet: number("1000"),
		CubicMetre:        wood(number("1e9")), Litre: number("1"), Gallon: number("3.785411784"), RunningMetre: number("1"),
		RunningFoot: number("0.3048"),
	}
	if lumber {
		holds[RunningFoot], holds[RunningMetre] = wood(foot, mm(own.RoughThickness), mm(own.WorkingWidth)),
			wood(number("1000"), mm(own.RoughThickness), mm(own.WorkingWidth))
		holds[SquareFoot], holds[SquareMetre] = wood(foot, foot, mm(own.RoughThickness)),
			wood(number("1e6"), mm(own.RoughThickness))
	}
	price := new(big.Rat).Mul(number(row.Price), number(own.Packs[0].String()))
	return price.Quo(price, holds[row.Per])
}

func TestAConvertedPriceIsTheExactOneRoundedOnce(t *testing.T) {
	t.Parallel()
	seen := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		own := anyOwn(t)
		var fit []Unit
		for _, u := range Units() {
			if _, ok := own.contentIn(u); ok {
				fit = append(fit, u)
			}
		}
		row := Row{Per: rapid.SampledFrom(fit).Draw(t, "per"),
			Price: rapid.StringMatching(`-?(0|[1-9][0-9]{0,7})(\.[0-9]{1,6})?`).Draw(t, "price")}
		want := exactly(t, &row, &own)
		got, rejection := Convert(&row, own)
		rounded, ok := new(big.Rat).SetString(want.FloatString(4)) // rounds half away from zero
		require.True(t, ok)
		off := new(big.Rat).Sub(rounded, want)
		size := new(big.Rat).Abs(want)
		tooMuch := new(big.Rat).Mul(off.Abs(off), big.NewRat(mostLost, 1)).Cmp(size) > 0
		tooDear := new(big.Rat).Abs(rounded).Cmp(big.NewRat(100_000_000, 1)) > 0
		seen[rejection == nil]++
		if tooMuch || tooDear {
			require.NotNil(t, rejection)
			return
		}
		require.Nil(t, rejection)
		require.Equal(t, got.Rounded, off.Sign() != 0)
		printed, ok := new(big.Rat).SetString(got.Price.String())
		require.True(t, ok)
		require.Zero(t, printed.Cmp(rounded), "%s per %s: %s, and exactly %s", row.Price, row.Per, got.Price,
			want.FloatString(9))
	})
	require.Positive(t, seen[true])
}

func TestThereAndBackGivesTheListedPrice(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		own := anyOwn(t)
		for _, u := range Units() {
			content, ok := own.contentIn(u)
			if !ok {
				continue
			}
			back, ok := content.times(ratio{content.under, content.over})
			require.True(t, ok)
			require.Equal(t, ratio{1, 1}, back)
		}
		// What a pack costs by its own unit and by the pack is the same, whatever the pack.
		price := rapid.StringMatching(`[1-9][0-9]{0,4}\.[0-9]{1,4}`).Draw(t, "price")
		of := own.Packs[0].String()
		pack, rejection := Convert(&Row{Price: price, Per: Pack, PackOf: of}, own)
		require.Nil(t, rejection)
		want, err := money.ParseUnitPrice(price)
		require.NoError(t, err)
		require.Zero(t, pack.Price.Cmp(want))
		require.False(t, pack.Rounded)
	})
}

func TestShortAndLongReckoningAgree(t *testing.T) {
	t.Parallel()
	both := 0
	rapid.Check(t, func(t *rapid.T) {
		r := lowest(rapid.Uint64Range(1, 1<<40).Draw(t, "over"), rapid.Uint64Range(1, 1<<40).Draw(t, "under"))
		amount, size := rapid.Uint64Range(0, 1e18).Draw(t, "amount"), rapid.Uint64Range(1, mostPack).Draw(t, "size")
		n, lost, ok := r.short(amount, size)
		if !ok {
			return
		}
		both++
		n2, lost2, ok := r.long(amount, size)
		require.True(t, ok)
		require.Equal(t, n2, n)
		require.Equal(t, lost2, lost)
	})
	require.Positive(t, both)
}
