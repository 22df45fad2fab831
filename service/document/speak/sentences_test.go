package speak

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamwright/service/document/words"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/store/storetest/drawtest"
)

// What a shop begins with, and what answers say of a few tops, has words in every language: steps with their notes, things to
// buy, warnings, cautions and notes.
func TestAnswersAreToldInEveryLanguage(t *testing.T) {
	texts := map[string]bool{}
	add := func(list ...string) {
		for _, text := range list {
			if text != "" {
				texts[text] = true
			}
		}
	}
	for file, columns := range map[string][]string{"item": {"name"}, "labour_standard": {"name", "note"}} {
		rows := seed(t, file)
		for _, row := range rows[1:] {
			for i, head := range rows[0] {
				for _, column := range columns {
					if head == column {
						add(row[i])
					}
				}
			}
		}
	}
	for _, order := range []estimate.Order{drawtest.Desk(), drawtest.Bar(), drawtest.Counter(), rigid(), wet(), bare(), open()} {
		e := drawtest.Make(t, order)
		for i := range e.Warnings {
			if e.Warnings[i].Severity != estimate.Info {
				add(e.Warnings[i].Text)
			}
		}
		add(e.Cautions...)
		add(e.Fixing.Note, e.Labour.NoPromise)
		for i := range e.Runs {
			add(e.Runs[i].WallJoint.Text)
		}
		for i := range e.Corners {
			c := e.Corners[i].ChosenCandidate()
			add(c.Hardware.Pull.Note, c.Movement.RestrainedWhy)
		}
	}
	require.Greater(t, len(texts), 300)
	for _, language := range words.Languages() {
		if language == "en" {
			continue
		}
		speaker, err := In(language)
		require.NoError(t, err)
		for text := range texts {
			assert.True(t, speaker.Drawings.Knows(text), "%s: %s\nso far: %s", language, text, speaker.Drawings.Told(text))
			require.NotContains(t, speaker.Drawings.Told(text), "%!", text)
		}
	}
}

func seed(t *testing.T, file string) [][]string {
	source, err := os.Open("../../../store/seed/" + file + ".csv")
	require.NoError(t, err)
	rows := csv.NewReader(source)
	rows.Comment, rows.FieldsPerRecord = '#', -1
	all, err := rows.ReadAll()
	require.NoError(t, err)
	require.NoError(t, source.Close())
	return all
}

// rigid is a wide bar whose legs cannot swing.
func rigid() estimate.Order {
	o := drawtest.Counter()
	yes := true
	o.Top.Corners[1].Restrained = &yes
	return o
}

// wet is a top of wood that must rest for long.
func wet() estimate.Order {
	o := drawtest.Desk()
	o.Moisture.Making = drawtest.Wet(11.5)
	return o
}

// bare is a kitchen top without a finish, whose sink leaves little wood.
func bare() estimate.Order {
	o := drawtest.Desk()
	o.Finish.System = "none"
	at := o.Top.Runs[0].Length / 3
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 600, Depth: 500, FromStart: &at, FromFront: 60}}
	return o
}

// open is a top with an apron sink.
func open() estimate.Order {
	o := drawtest.Desk()
	at := o.Top.Runs[0].Length / 3
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 600, Depth: 430, FromStart: &at}}
	return o
}

func TestASentenceIsToldWithItsValues(t *testing.T) {
	s := pen.Speech{Comma: true, Words: map[string]string{"mm": "mm", "2 people": "zwei"}, Names: map[string]string{"White ash": "Weißesche"},
		Sentences: []pen.Sentence{pen.Learn("Leave %s at the wall.", "An der Wand %s lassen."), pen.Learn("Only %s of %s.", "Von %[2]s nur %[1]s."), pen.Learn("No glue.", "Kein Leim, 100 %.")}}
	require.Equal(t, "An der Wand 2,5 mm lassen. Kein Leim, 100 %.", s.Told("Leave 2.5 mm at the wall. No glue."))
	require.Equal(t, "Von Weißesche nur zwei.", s.Told("Only 2 people of White ash."))
	require.Equal(t, "Kein Leim, 100 %. Not known. No glue.", s.Told("No glue. Not known. No glue."), "what follows what is not known stays as it is")
	require.True(t, s.Knows("No glue."))
	require.False(t, s.Knows("No glue. Not known."))
	require.Equal(t, "As it is.", pen.Speech{}.Told("As it is."))
	require.Empty(t, strings.TrimSpace(s.Told("")))
}
