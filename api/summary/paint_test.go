package summary

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

var colours = regexp.MustCompile("\x1b\\[[0-9]*m")

// Colour only sets off: without it the text is the same to the letter.
func TestPaintChangesNoLetter(t *testing.T) {
	text := "Desk\n════\n\n  Seen from above.\nCorner\n──────\n  ► miter   59  36\n    butt  45  25\n  serious: look out\n  info: so it is\n"
	painted := paint(text)
	require.Equal(t, text, colours.ReplaceAllString(painted, ""))
	for _, line := range []string{bold + "Desk" + plain, bold + "  ► miter   59  36" + plain,
		yellow + "  serious: look out" + plain, faint + "──────" + plain} {
		require.Contains(t, painted, line)
	}
	require.Contains(t, painted, "\n    butt  45  25\n", "what is usual stays plain")
}
