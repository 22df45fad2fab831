package measure_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

func TestALineEndsInNoMeasure(t *testing.T) {
	for text, parts := range map[string]string{
		"this bar is then 3 in long.":                     "this_bar_is_then_3 in_long.",
		"dieser Balken ist dann 2 Zoll lang.":             "dieser_Balken_ist_dann_2 Zoll_lang.",
		"entlang der Wände, 1-1/2 Zoll dick":              "entlang_der_Wände,_1-1/2 Zoll_dick",
		"#20 biscuit, 56 × 23 × 4 mm":                     "#20_biscuit,_56 × 23 × 4 mm",
		"3: 0 | 0, 4: 48-1/2 | 0":                         "3:_0 | 0,_4:_48-1/2 | 0",
		"3 staves, 10-1/4 wide | 3 staves":                "3_staves,_10-1/4 wide_|_3_staves",
		"Scale 1 : 24, 12 % wet":                          "Scale_1 : 24,_12 %_wet",
		"32 × slotted clip":                               "32_×_slotted_clip",
		"in sections of 2, at most 5 joints; 200 lbf/in²": "in_sections_of_2,_at_most_5_joints;_200 lbf/in²",
		"  two   blanks ":                                 "two_blanks",
		"51 (9.5 × 2), 338":                               "51 (9.5 × 2),_338",
		"pine (8/4), 2 (two)":                             "pine_(8/4),_2_(two)",
		"× : |":                                           "×_:_|",
		"":                                                "",
	} {
		require.Equal(t, parts, strings.Join(measure.Unbroken(text), "_"), text)
	}
}

func TestUnbrokenLosesNoWord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.RuneFrom([]rune("ab 1 2×:|%é\u00a0\n")), 0, 40, -1).Draw(t, "text")
		require.Equal(t, strings.Join(strings.Fields(text), " "), strings.Join(measure.Unbroken(text), " "))
	})
}
