package speak

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/document/words"
	"seamwright/service/drawing/plan"
	"seamwright/service/drawing/season"
	"seamwright/service/estimate"
	"seamwright/store/storetest/drawtest"
)

// Every text that the customer's drawings say has words in each language of offers, with the same values in it.
func TestDrawingsSpeakTheLanguagesOfOffers(t *testing.T) {
	said := regexp.MustCompile(`\b[sS]ay\(("(?:[^"\\]|\\.)*")`)
	texts := map[string]bool{}
	for _, pattern := range []string{"../../drawing/pen/*.go", "../../drawing/plan/*.go", "../../drawing/seam/*.go",
		"../../drawing/days/*.go", "../shopsheet/*.go", "../../drawing/season/*.go", "../../drawing/view/*.go",
		"../../drawing/compare/*.go", "../../drawing/truesize/*.go", "../../drawing/saw/*.go", "../bench/*.go", "../../orderform/*.go"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			source, err := os.ReadFile(file)
			require.NoError(t, err)
			for _, m := range said.FindAllStringSubmatch(string(source), -1) {
				text, err := strconv.Unquote(m[1])
				require.NoError(t, err)
				texts[text] = true
			}
		}
	}
	delete(texts, "free ") // followed by start or end
	delete(texts, "page")  // a message of package words
	require.Greater(t, len(texts), 40)
	for _, language := range words.Languages() {
		if language == "en" {
			continue
		}
		speaker, err := In(language)
		require.NoError(t, err)
		speech := speaker.Drawings
		for text := range texts {
			require.Contains(t, speech.Words, text, language)
		}
		for text, own := range speech.Words {
			require.Equal(t, strings.Count(text, "%s"), strings.Count(own, "%s"), text)
			require.Equal(t, strings.Count(text, "%%"), strings.Count(own, "%%"), text)
		}
	}
}

// ofBoards is what boards' names say besides their wood.
var ofBoards = regexp.MustCompile(` \d.*`)

// Every wood and finish that the catalogue comes with has a name in each language of offers, and every wood as boards have it.
func TestWoodsAndFinishesHaveNamesInTheLanguagesOfOffers(t *testing.T) {
	names, boards := map[string]bool{}, map[string]bool{}
	for file, column := range map[string]int{"species": 1, "item": 2} {
		source, err := os.Open("../../../store/seed/" + file + ".csv")
		require.NoError(t, err)
		rows := csv.NewReader(source)
		rows.Comment, rows.FieldsPerRecord = '#', -1
		all, err := rows.ReadAll()
		require.NoError(t, err)
		require.NoError(t, source.Close())
		require.Equal(t, "name", all[0][column])
		for _, row := range all[1:] {
			switch {
			case file == "species" || row[1] == "finish":
				names[row[column]] = true
			case row[1] == "lumber" || row[1] == "panel":
				wood, _, _ := strings.Cut(row[column], " edge-glued")
				boards[ofBoards.ReplaceAllString(wood, "")] = true
			}
		}
	}
	require.Greater(t, len(names), 30)
	for _, language := range words.Languages() {
		speaker, err := In(language)
		require.NoError(t, err)
		speech := speaker.Drawings
		for name := range names {
			require.NotEmpty(t, speech.Names[name], "%s in %s", name, language)
		}
		for name := range boards { // English names them as they are
			require.True(t, language == "en" || speech.Names[name] != "", "%s in %s", name, language)
		}
		for name := range speech.Names {
			require.True(t, names[name] || boards[name], "%s is no name of the catalogue", name)
		}
		require.Equal(t, "Öl-Esche", speech.Name("Öl-Esche"), "a shop's own stays")
	}
}

func TestGermanDrawingsHaveNoEnglishWords(t *testing.T) {
	speaker, err := In("de")
	require.NoError(t, err)
	speech := speaker.Drawings
	english := regexp.MustCompile(`(?i)\b(corner|run|wall|front|edge|deep|depth|wide|wider|narrower|season|moisture|dry|humid|year|length|lengths|piece|pieces|joint|miter|butt|goes|through|from|free|start|scale|printed|grain|seam|size|place|angle|less|than|made|sawn)\b|\d in\b`)
	for name, o := range map[string]func() estimate.Order{"desk": drawtest.Desk, "bar": drawtest.Bar,
		"counter": drawtest.Counter} {
		e := drawtest.Make(t, o())
		picture, err := plan.ForCustomer(e, plan.Options{Speech: speech})
		require.NoError(t, err)
		chart, err := season.Draw(e, 0, season.Options{Speech: speech})
		require.NoError(t, err)
		docs := [][]byte{picture, chart}
		for c := range e.Corners {
			opening, err := season.DrawSeam(e, c, season.Options{Speech: speech})
			require.NoError(t, err)
			docs = append(docs, opening)
		}
		for _, doc := range docs {
			for _, text := range drawtest.Read(t, doc).Texts {
				for i := range e.Runs { // names are the caller's
					text = strings.ReplaceAll(text, e.Runs[i].Name, "")
					require.NotContains(t, text, e.Runs[i].Wood, name)
				}
				text = strings.ReplaceAll(text, e.Reference, "")
				require.Empty(t, english.FindAllString(text, -1), "%s: %s", name, text)
			}
		}
	}
}

// A language is files and no code: no source names another one than English.
func TestLanguagesAreFilesAlone(t *testing.T) {
	tags := words.Languages()
	require.GreaterOrEqual(t, len(tags), 2)
	for _, root := range []string{"../../../service", "../../../api", "../../../store"} {
		require.NoError(t, filepath.WalkDir(root, func(path string, entry os.DirEntry, err error) error {
			if err != nil || entry.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			source, err := os.ReadFile(path)
			require.NoError(t, err)
			for _, tag := range tags {
				if tag != "en" {
					require.NotContains(t, string(source), strconv.Quote(tag), path)
				}
			}
			return nil
		}))
	}
	for _, tag := range tags {
		s, err := In(tag)
		require.NoError(t, err)
		require.NotEmpty(t, s.Say("decimal_sign"))
		require.NotEmpty(t, s.Drawings.Thousands)
		day := s.Day("2026-11-03")
		require.Contains(t, day, "2026", "%s: a day is a layout of package time", tag)
		require.Regexp(t, `11|N|n`, day, tag)
		require.NotEqual(t, "2026-11-03", day, tag)
	}
	german, err := In("de")
	require.NoError(t, err)
	require.Equal(t, []string{"03.11.2026", "1.234.567,80", "0,5"},
		[]string{german.Day("2026-11-03"), german.Amount("1234567.80"), german.Decimal("0.5")})
}

// What a language lacks is told by its name, the first of several; numbers in drawings are written as those of papers.
func TestASpeakerTellsWhatIsMissing(t *testing.T) {
	t.Parallel()
	for _, language := range words.Languages() {
		s, err := In(language)
		require.NoError(t, err)
		require.NoError(t, s.Missing())
		require.NotEmpty(t, s.Say("total"))
		require.NoError(t, s.Missing())
		require.Empty(t, s.Say("no_such_words"))
		require.Empty(t, s.Say("nor_these"))
		require.ErrorContains(t, s.Missing(), "words for no_such_words")
		require.Equal(t, s.Decimal("1234.5"), s.Drawings.Number("1234.5"))
		require.Equal(t, language, s.Drawings.Language)
	}
}

// Amounts have their thousands set apart, whatever their length and sign; days that are none stay as they are.
func TestAmountsAndDays(t *testing.T) {
	t.Parallel()
	en, err := In("en")
	require.NoError(t, err)
	for text, want := range map[string]string{"0.00": "0.00", "12.50": "12.50", "999.99": "999.99", "1000.00": "1,000.00",
		"-1000.00": "-1,000.00", "-999.00": "-999.00", "123456": "123,456", "1234567.89": "1,234,567.89"} {
		require.Equal(t, want, en.Amount(text))
	}
	require.Equal(t, "3 November 2026", en.Day("2026-11-03"))
	require.Equal(t, "soon", en.Day("soon"))
}
