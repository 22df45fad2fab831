package pen_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/drawing/pen"
)

func TestScalesAreThoseOfARule(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		inches bool
		w      float64
		want   pen.Scale
		text   string
	}{
		{false, 139, 1, "1 : 1"}, {false, 700, 5, "1 : 5"}, {false, 2600, 20, "1 : 20"}, {false, 3200, 25, "1 : 25"},
		{false, 6000, 50, "1 : 50"}, {false, 150000, 2000, "1 : 2000"},
		{true, 2438.4, 24, "1/2 in = 1 ft (1 : 24)"}, {true, 2000, 16, "3/4 in = 1 ft (1 : 16)"}, {true, 270, 2, "1 : 2"},
		{true, 700 * 140, 768, "1 : 768"}, {true, 768 * 140, 768, "1 : 768"}, {true, 960 * 140, 1000, "1 : 1000"},
		{false, 140000, 1000, "1 : 1000"}, {false, 140001, 2000, "1 : 2000"}, {false, 280001, 3000, "1 : 3000"},
		{false, 140, 1, "1 : 1"}, {false, 141, 2, "1 : 2"},
	} {
		got := pen.ChooseScale(c.inches, c.w, 10, 140, 140)
		require.Equal(t, c.want, got, "%v", c)
		require.Equal(t, c.text, got.Text(c.inches, pen.Speech{}))
	}
}

// What is as large as the room at a usual scale is drawn at that scale, and what is a hair larger at the next smaller one.
func TestEveryUsualScaleIsTaken(t *testing.T) {
	t.Parallel()
	for inches, list := range map[bool][]pen.Scale{false: {1, 2, 5, 10, 20, 25, 50, 75, 100, 125, 200, 500, 1000, 2000, 3000},
		true: {1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 384, 768, 1000, 2000}} {
		for i, s := range list {
			require.Equal(t, s, pen.ChooseScale(inches, 100*float64(s), 1, 100, 100))
			require.Equal(t, s, pen.ChooseScale(inches, 1, 100*float64(s), 100, 100))
			if i+1 < len(list) {
				require.Equal(t, list[i+1], pen.ChooseScale(inches, 100.01*float64(s), 1, 100, 100))
			}
		}
	}
}

// A bar's two lengths, in life and on paper, are whole numbers that go with the scale, whatever it is.
func TestABarProvesItsScale(t *testing.T) {
	t.Parallel()
	for inches, list := range map[bool][]pen.Scale{false: {1, 2, 5, 10, 20, 25, 50, 75, 100, 125, 200, 500, 1000, 2000},
		true: {1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 384, 768}} {
		for _, s := range list {
			b := s.Bar(inches, pen.Speech{})
			require.True(t, b.Paper >= 40 && b.Paper <= 80, "%v: %v", s, b)
			require.InDelta(t, length(t, b.Of), b.Paper*float64(s), 1e-6, "%v", b)
			require.InDelta(t, length(t, b.Check), b.Paper, 1e-6, "%v", b)
			require.NotContains(t, b.Of+b.Check, ".", "whole numbers: %v", b)
			require.True(t, b.Parts >= 2 && b.Parts <= 5, "%v: %v", s, b)
		}
	}
}

// length reads a length with its unit, in millimetres.
func length(t *testing.T, text string) float64 {
	for unit, size := range map[string]float64{" mm": 1, " m": 1000, " in": 25.4, " ft": 304.8} {
		if n := len(text) - len(unit); n > 0 && text[n:] == unit {
			x, err := strconv.ParseFloat(text[:n], 64)
			require.NoError(t, err)
			return x * size
		}
	}
	require.Fail(t, text)
	return 0
}
