package document

import (
	"bytes"
	"strings"
	"testing"

	"github.com/ledongthuc/pdf"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/sfnt"
	"pgregory.net/rapid"
)

func TestTheEmbeddedLettersCanBeRead(t *testing.T) {
	t.Parallel()
	for name, raw := range map[string][]byte{"regular": regular, "bold": bold, "chinese": chinese, "korean": korean} {
		_, err := sfnt.Parse(raw)
		require.NoError(t, err, name)
	}
	for _, r := range "aÄßŁőΩЖאبﻼ€≤½" {
		require.Equal(t, usualFace, faceOf(r), string(r))
	}
	for _, r := range "田中漢字カタカナひらがな" {
		require.Equal(t, chineseFace, faceOf(r), string(r))
	}
	for _, r := range "한글" {
		require.Equal(t, koreanFace, faceOf(r), string(r))
	}
}

// The shapes are those of The Unicode Standard, section 9.2 and the charts of Arabic Presentation Forms-B (U+FE70), and
// Forms-A (U+FB50) for Persian letters.
func TestArabicLettersJoin(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"ب":     "\uFE8F",                         // alone
		"بب":    "\uFE91\uFE90",                   // initial, final
		"ببب":   "\uFE91\uFE92\uFE90",             // medial between
		"مرحبا": "\uFEE3\uFEAE\uFEA3\uFE92\uFE8E", // reh joins to what is before it only
		// lam with alef is one, and joins to nothing after it
		"سلام":         "\uFEB3\uFEFC\uFEE1",
		"لا":           "\uFEFB",                                             // alone
		"ء":            "\uFE80",                                             // hamza joins to nothing
		"مُحَمَّد":     "\uFEE3\uFEA4\uFEE4\uFEAA",                           // without its points
		"پژگی":         "\uFB58\uFB8B\uFB94\uFBFD",                           // Persian
		"بـب":          "\uFE91\u0640\uFE90",                                 // a stroke joins on both sides
		"ب ب":          "\uFE8F \uFE8F",                                      // a blank does not
		"میخواهم":      "\uFEE3\uFBFF\uFEA8\uFEEE\uFE8D\uFEEB\uFEE2",         // Persian words
		"ب\u200cب":     "\uFE8F\uFE8F",                                       // a mark that keeps them apart
		"Ab ب1":        "Ab \uFE8F1",                                         // among others
		"\u0622\u0645": "\uFE81\uFEE1", "\u0627\u0653\u0645": "\uFE81\uFEE1", // alef with madda, composed or not
	} {
		require.Equal(t, want, printable(text), "%q", text)
	}
}

// Unicode numbers all four shapes of a letter that joins on both sides, and the last one of every letter that joins to the one before:
// what joins always has its shape.
func TestWhatJoinsHasItsShape(t *testing.T) {
	t.Parallel()
	both := 0
	for letter, f := range arabicForms() {
		if f.initial != 0 && f.final != 0 {
			require.NotZero(t, f.medial, "%q", letter)
			both++
		}
		require.NotZero(t, f.isolated, "%q", letter)
	}
	require.Greater(t, both, 20)
	require.Zero(t, arabicForms()[string(rune(tatweel))], "a stroke has one shape, its own")
}

func TestWhatCannotBePrintedIsSaidOtherwise(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"plain":         "plain",
		"a\tb\u200bc":   "a bc",
		"e\u0301":       "é",
		"🙂":             "(slightly smiling face)",
		"👍🏽 ok":         "(thumbs up sign) ok",
		"🇩🇪":            "DE",
		"𝐁𝐨𝐥𝐝":          "Bold",
		"\u202eevil":    "evil",
		"田中 太郎":         "田中 太郎",
		"\U000E0041":    "",
		"a\uFFFD":       "a\uFFFD",
		"\u0915 \u0E01": "□ □", // letters of scripts that are not embedded
	} {
		require.Equal(t, want, printable(text), "%q", text)
	}
}

// Capitals stand for letters that go from right to left, as in UAX #9, section 3.4 (rule L2), whose example the first one is.
func TestLinesAreSeenInBothDirections(t *testing.T) {
	t.Parallel()
	hebrew := func(text string) string {
		return strings.Map(func(r rune) rune {
			if r >= 'A' && r <= 'Z' {
				return 'א' + r - 'A'
			}
			return r
		}, text)
	}
	for text, want := range map[string]string{
		"car means CAR.":      "car means RAC.",
		"CAR means car.":      ".means car RAC",
		"plain":               "plain",
		"ABC 123 DEF":         "FED 123 CBA",
		"no. 7 ABC 123 DEF x": "no. 7 FED 123 CBA x",
		"x ABC y DEF":         "x CBA y FED",
		"ABC (wood)":          "(wood) CBA",
		"a ABC 1 DEF 2 GHI z": "a IHG 2 FED 1 CBA z",
		"x ABC y DEF 1 GHI":   "x CBA y IHG 1 FED",
		"12 ABC":              "CBA 12",
		"12 mean ABC":         "12 mean CBA", // numbers do not say in which direction a line goes
	} {
		require.Equal(t, hebrew(want), seen(hebrew(text)), text)
	}
}

func TestPrintableTextIsPrintable(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		text := printable(rapid.String().Draw(t, "text"))
		for _, r := range text {
			if faceOf(r) == noFace {
				t.Fatalf("%q has %U", text, r)
			}
		}
		if whole := ""; true {
			for _, part := range stretches(text) {
				whole += part.text
			}
			if whole != text {
				t.Fatalf("%q is taken apart as %q", text, whole)
			}
		}
	})
}

// A text in two faces stands in the PDF as it is, wherever it stands, also over pages, and takes the room that it was measured to.
func TestTextsOfManyScriptsStandInThePDF(t *testing.T) {
	t.Parallel()
	const name = "Müller & 田 工房 한글"
	long := strings.Repeat("木天板 wood 角 ", 400)
	d := &Document{Title: name, Language: "en", Paper: A4, Letter: Letterhead{Name: name, Lines: []string{name}},
		Foot: name, Page: "page %d of %s", Blocks: []Block{
			Heading{Level: 1, Text: name}, Text{Text: name}, Text{Text: long}, List{Items: []string{name}},
			Facts{Rows: [][2]string{{name, name}}},
			Table{Columns: []Column{{Title: name, Weight: 1}, {Title: "b", Weight: 1, Right: true}},
				Rows: []Row{{Cells: []string{name, name}, Strong: true}}}, Signature{Under: []string{name}}}}
	raw, err := d.PDF()
	require.NoError(t, err)
	again, err := d.PDF()
	require.NoError(t, err)
	require.True(t, bytes.Equal(raw, again))
	r, err := pdf.NewReader(bytes.NewReader(raw), int64(len(raw)))
	require.NoError(t, err)
	require.Greater(t, r.NumPage(), 1)
	all := ""
	for n := 1; n <= r.NumPage(); n++ {
		text, err := r.Page(n).GetPlainText(nil)
		require.NoError(t, err)
		all += strings.Join(strings.Fields(text), "")
	}
	low := func(text string) string { // the reader has the low byte of a character only
		return strings.Map(func(r rune) rune { return r & 0xFF }, strings.ReplaceAll(text, " ", ""))
	}
	require.Equal(t, 11+r.NumPage(), strings.Count(all, low("Müller & 田工房한글")), "%q", all)
	require.Equal(t, 400, strings.Count(all, low("木天板 wood 角")))
}
