package catalogue_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

func TestWordsOfAForm(t *testing.T) {
	t.Parallel()
	words, err := catalogue.Words("  oiled=hardwax_oil  plain ")
	require.NoError(t, err)
	require.Equal(t, []catalogue.Word{{Word: "oiled", Code: "hardwax_oil"}, {Word: "plain", Code: "plain"}}, words)
	for _, wrong := range []string{"", " ", "a=", "=a", "a=b=c", "A", "a a", "a=b a=c", "ä", "a;b", "1a"} {
		_, err := catalogue.Words(wrong)
		require.Error(t, err, "%q", wrong)
		require.Error(t, catalogue.CheckSetting("form_finishes", wrong), "%q", wrong)
	}
}

func TestLengthsOfAForm(t *testing.T) {
	t.Parallel()
	lengths, err := catalogue.Lengths("25.4 38.1")
	require.NoError(t, err)
	require.Equal(t, []measure.Length{25.4, 38.1}, lengths)
	for _, wrong := range []string{"", "x", "0", "-1", "NaN", "Inf", "38 25", "25 25", "25mm"} {
		_, err := catalogue.Lengths(wrong)
		require.Error(t, err, "%q", wrong)
		require.Error(t, catalogue.CheckSetting("form_thicknesses", wrong), "%q", wrong)
	}
}
