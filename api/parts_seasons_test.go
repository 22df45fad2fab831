package api_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// yearOf is twelve months that swing evenly about 9 by 3 points, most in July.
func yearOf() string {
	var months []string
	for k := range 12 {
		months = append(months, fmt.Sprintf(`{"content":%.9f}`, 9+3*math.Cos(2*math.Pi*float64(k-6)/12)))
	}
	return "[" + strings.Join(months, ",") + "]"
}

func seasons(finish, more string) string {
	return fmt.Sprintf(
		`{"units":"mm","species":"maple_sugar","width":650,"thickness":38,"moisture":{"making":{"content":9}},"months":%s,"finish":%s%s}`,
		yearOf(),
		finish,
		more,
	)
}

// The answer's own figures give its months again, by the wave that goes through a slab with two faces (solved here with
// hyperbolic functions, not as the service does).
func TestTheMonthsFollowFromTheAnswer(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for _, finish := range []string{`{"system":"none"}`, `{"system":"film_varnish","faces":"both"}`, `{"system":"film_varnish","faces":"top"}`,
		`{"system":"hardwax_oil","faces":"top","excluding":70}`} {
		a := c.post(t, "/v1/seasons", seasons(finish, "")).tree(t)
		d, l := a["diffusion"].(float64), 38.0
		s1, s2 := a["surface"].([]any)[0].(float64), a["surface"].([]any)[1].(float64)
		q := cmplx.Sqrt(complex(0, 2*math.Pi/365.25/d))
		// M = A·cosh qx + B·sinh qx; S₁·(M(0) − E) = D·M'(0), S₂·(M(l) − E) = −D·M'(l), E = 1
		ql := q * complex(l, 0)
		ch, sh, k1, k2 := cmplx.Cosh(ql), cmplx.Sinh(ql), complex(d/s1, 0)*q, complex(d/s2, 0)*q
		// A − k₁·B = 1; A·(ch + k₂·sh) + B·(sh + k₂·ch) = 1
		b := (1 - (ch + k2*sh)) / (k1*(ch+k2*sh) + sh + k2*ch)
		am := 1 + k1*b
		mean := (am*sh + b*(ch-1)) / ql
		require.InDelta(t, cmplx.Abs(mean), a["damping"].(float64), 2e-4, finish)
		require.InDelta(t, -cmplx.Phase(mean)/(2*math.Pi)*365.25, a["lag_days"].(float64), 0.1, finish)
		// first moment about the middle, of A·cosh + B·sinh
		moment := am*(complex(l, 0)*sh/q-(ch-1)/(q*q)) + b*(complex(l, 0)*ch/q-sh/(q*q)) - complex(
			l/2,
			0,
		)*(am*sh+b*(ch-1))/q
		slope := 12 / complex(l*l*l, 0) * moment
		worst := 0.0
		for k, m := range a["months"].([]any) {
			month := m.(map[string]any)
			turn := cmplx.Exp(complex(0, 2*math.Pi*float64(k-6)/12))
			require.InDelta(t, 9+3*real(turn), month["equilibrium"], 0.006)
			require.InDelta(t, 9+3*real(mean*turn), month["mean"], 0.006, "%s, month %d", finish, k)
			change := 650 * 0.00353 * (3 * real(mean*turn))
			require.InDelta(t, change, month["change"], 0.02)
			cup := 0.00353 * 3 * real(slope*turn) * 650 * 650 / 8
			require.InDelta(t, cup, month["cup"], 0.02, "%s, month %d", finish, k)
			if math.Abs(month["cup"].(float64)) > math.Abs(worst) {
				worst = month["cup"].(float64)
			}
		}
		require.Equal(t, math.Abs(worst), math.Abs(a["cup"].(float64)), finish)
		require.InDelta(t, 650*0.00353*6, a["equilibrium_movement"].(map[string]any)["range"], 0.02)
	}
}

// What a maker would expect without a formula.
func TestSeasonsGoTheRightWay(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	of := func(finish, more string) map[string]any {
		a := c.post(t, "/v1/seasons", seasons(finish, more))
		require.Equal(t, http.StatusOK, a.status, string(a.body))
		return a.tree(t)
	}
	at := func(a map[string]any, names ...string) float64 {
		for _, n := range names[:len(names)-1] {
			a = a[n].(map[string]any)
		}
		return a[names[len(names)-1]].(float64)
	}
	bare, both, top := of(
		`{"system":"none"}`,
		"",
	), of(
		`{"system":"film_varnish"}`,
		"",
	), of(
		`{"system":"film_varnish","faces":"top"}`,
		"",
	)
	require.Less(t, at(both, "damping"), at(top, "damping"))
	require.Less(t, at(top, "damping"), at(bare, "damping"))
	require.Less(t, at(bare, "lag_days"), at(top, "lag_days"))
	require.Less(t, at(top, "lag_days"), at(both, "lag_days"))
	require.Zero(t, at(bare, "cup"))
	require.Zero(t, at(both, "cup"), "finish both faces alike")
	require.NotZero(t, at(top, "cup"))
	for _, a := range []map[string]any{bare, both, top} {
		require.Less(t, at(a, "movement", "range"), at(a, "equilibrium_movement", "range"))
		require.Less(t, at(a, "movement_slow", "range"), at(a, "movement", "range"))
		require.Less(t, at(a, "movement", "range"), at(a, "movement_fast", "range"))
		require.Less(t, at(a, "damping_low"), at(a, "damping"))
		require.Less(t, at(a, "lag_days_low"), at(a, "lag_days"))
	}
	july := top["months"].([]any)[6].(map[string]any)
	require.Positive(t, july["cup"], "in the humid season the bare underside swells: the edges stand up")
	require.Less(t, at(of(`{"system":"film_varnish","coats":6}`, ""), "damping"), at(both, "damping"), "more coats")

	up, down := of(`{"system":"none"}`, `,"rings":"bark_up"`), of(`{"system":"none"}`, `,"rings":"heart_up"`)
	require.Equal(t, at(up, "cup"), -at(down, "cup"))
	require.Greater(t, math.Abs(at(up, "cup")), 1.0, "staves that are all turned alike")
	// 2·(C_T − C_R)·ΔM/d·w²/8, by hand for the wettest month: C_T 0.00353, C_R 0.00165
	wettest := 0.0
	for _, m := range up["months"].([]any) {
		wettest = math.Max(wettest, m.(map[string]any)["mean"].(float64))
	}
	require.InDelta(t, -2*(0.00353-0.00165)*(wettest-9)/100*650*650/8, leastCup(up), 0.08)
	quarter := c.post(t, "/v1/seasons", strings.Replace(seasons(`{"system":"none"}`, `,"rings":"bark_up"`), `"width"`, `"sawn":"quarter","width"`, 1)).
		tree(t)
	require.Zero(t, at(quarter, "cup"))

	below := of(`{"system":"film_varnish"}`, `,"below":{"humidity":75,"temperature":30}`)
	require.Positive(t, at(below, "cup"), "a damp underside swells")
	require.Equal(t, "heat_or_steam_below", below["warnings"].([]any)[0].(map[string]any)["code"])
}

func leastCup(a map[string]any) (least float64) {
	for _, m := range a["months"].([]any) {
		least = math.Min(least, m.(map[string]any)["cup"].(float64))
	}
	return least
}

func TestAPlaceIsFoundByCodeNameAndTown(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	body := func(place string) string {
		return fmt.Sprintf(`{"units":"mm","species":"maple_sugar","width":650,"thickness":38,"place":%q}`, place)
	}
	first := c.post(t, "/v1/seasons", body("chicago_il"))
	require.Equal(t, http.StatusOK, first.status, string(first.body))
	require.Equal(t, 14.2, first.tree(t)["months"].([]any)[0].(map[string]any)["equilibrium"])
	require.Contains(t, string(first.body), "from memory", "no row of the places was read")
	for _, name := range []string{"Chicago, IL", "chicago", "Chicago"} {
		require.Equal(t, string(first.body), string(c.post(t, "/v1/seasons", body(name)).body), name)
	}
	none := c.post(t, "/v1/seasons", body("Chicagoo"))
	require.Equal(t, http.StatusUnprocessableEntity, none.status)
	require.Equal(t, "/place", none.problem(t).Errors[0].Pointer)
	for _, bad := range []string{`{"units":"mm","species":"maple_sugar","width":650,"thickness":38}`,
		strings.Replace(seasons(`{"system":"none"}`, ""), `"months"`, `"place":"chicago_il","months"`, 1)} {
		a := c.post(t, "/v1/seasons", bad)
		require.Equal(t, http.StatusUnprocessableEntity, a.status)
		require.Contains(t, string(a.body), "twelve months or by a place")
	}
}

func TestSeasonsThatCannotBeReckonedAreRefusedWhole(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	a := c.post(
		t,
		"/v1/seasons",
		strings.NewReplacer("maple_sugar", "mapel", `"thickness":38`, `"thickness":0.2`, `"width":650`, `"width":99999`, "12.000000000", "80").
			Replace(seasons(`{"system":"paint"}`, "")),
	)
	require.Equal(t, http.StatusUnprocessableEntity, a.status, string(a.body))
	var at []string
	for _, e := range a.problem(t).Errors {
		at = append(at, e.Pointer)
	}
	require.Equal(t, []string{"/finish/system", "/months/6/content", "/species", "/thickness", "/width"}, at)
}
