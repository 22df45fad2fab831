package speak

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/document/words"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/service/scribe"
	"seamwright/store/storetest/drawtest"
)

// What a shop begins with, and what answers say of a few tops, has words in every language: steps with their notes, things to
// buy, warnings, cautions and notes.
func TestAnswersAreToldInEveryLanguage(t *testing.T) {
	texts, props := map[string]bool{}, 0
	add := func(list ...string) {
		for _, text := range list {
			if text != "" {
				texts[text] = true
			}
		}
	}
	for file, columns := range map[string][]string{"item": {"name"}, "labour_standard": {"name", "note"}, "species": {"dust"}} {
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
	for _, order := range []estimate.Order{drawtest.Desk(), drawtest.Bar(), drawtest.Counter(), rigid(), wet(), bare(),
		open(), hung(), wished(), reflex(), carried(800, 1600), carried(760, 720), carried(600, 400), crooked(), slanting(), tight(), highUp(),
		builtUp(0), builtUp(15), builtUp(80), inPieces(estimate.EdgeGlued), inPieces(estimate.Panel),
		hanging(estimate.AddBrackets, 900), hanging(estimate.AddLegs, 900), hanging("", 2100), onlyInFront()} {
		e := drawtest.Make(t, order)
		for i := range e.Warnings {
			if e.Warnings[i].Severity != estimate.Info {
				add(e.Warnings[i].Text)
			}
		}
		add(e.Cautions...)
		add(e.Fixing.Note, e.Labour.NoPromise)
		add(e.LiftingTexts()...)
		if b := e.Base; b != nil {
			for i := range b.Props {
				add(b.Props[i].Text)
			}
			for i := range b.Seams {
				add(b.Seams[i].Text)
			}
			props += len(b.Props)
		}
		if c := e.Carrying; c != nil {
			add(c.Text)
			for i := range c.Pieces {
				for k := range c.Pieces[i].Way {
					add(c.Pieces[i].Way[k].How)
				}
			}
		}
		for i := range e.Runs {
			add(e.Runs[i].WallJoint.Text)
			for k := range e.Runs[i].Walls {
				add(e.Runs[i].Walls[k].Text)
			}
		}
		for i := range e.Corners {
			c := e.Corners[i].ChosenCandidate()
			add(c.Hardware.Pull.Note, c.Movement.RestrainedWhy, e.Corners[i].Why)
			for k := range e.Corners[i].Candidates {
				c := &e.Corners[i].Candidates[k]
				add(c.Hardware.Reason)
				add(c.Hardware.Tries...)
				for _, f := range c.Findings {
					add(f.Text)
				}
			}
			if t := e.Corners[i].Tolerances; t != nil {
				add(t.Text)
			}
		}
	}
	require.Greater(t, len(texts), 300)
	require.Greater(t, props, 4)
	for _, language := range words.Languages() {
		if language == "en" {
			continue
		}
		speaker, err := In(language)
		require.NoError(t, err)
		for text := range texts {
			assert.True(t, speaker.Drawings.Knows(text), "%s: %s\nso far: %s", language, text, speaker.Drawings.Told(text))
			require.NotContains(t, speaker.Drawings.Told(text), "%!", text)
			assert.NotRegexp(t, `\b(the|with|and|of|which|from)\b`, speaker.Drawings.Told(text), text)
		}
	}
}

// One of a thing is told as one: what carries a top is a bracket, a leg or a pair of them, and no text counts one of several.
func TestOneOfAThingIsToldAsOne(t *testing.T) {
	speaker, err := In("de")
	require.NoError(t, err)
	var told []string
	for _, order := range []estimate.Order{onlyInFront(), hanging(estimate.AddBrackets, 900), hanging(estimate.AddLegs, 900)} {
		e := drawtest.Make(t, order)
		for i := range e.Base.Props {
			p := &e.Base.Props[i]
			require.NotRegexp(t, `: 1 \(`, p.Text)
			told = append(told, speaker.Drawings.Told(p.Text))
		}
	}
	all := strings.Join(told, "\n")
	require.Contains(t, all, "Eine Konsole unter A, mit einem Arm von")
	require.Regexp(t, `Ein (Bein|Beinpaar) unter A, `, all)
	require.Equal(t, "Konsolen unter A, jede mit einem Arm von 200 mm, der 50 mm hinter der Vorderkante endet: 2 (Konsole).",
		speaker.Drawings.Told("Brackets under run A, each with an arm of 200 mm that ends 50 mm behind the front edge: 2 (Konsole)."))

	// A text that counts a thing has one for several beside it, whose number is another word.
	var drawings map[string]string
	raw, err := os.ReadFile("drawings/de.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(raw, &drawings))
	for one, many := range map[string]string{"%s, %s coat, %s": "%s, %s coats, %s",
		"%s hours, %s working day": "%s hours, %s working days", "%s stave, %s wide": "%s staves, %s wide",
		"%s steps over %s working day.": "%s steps over %s working days."} {
		require.NotEmpty(t, drawings[one])
		require.NotEqual(t, drawings[one], drawings[many])
		for n, text := range map[int]string{0: many, 1: one, 2: many} {
			require.Equal(t, speaker.Drawings.Say(text), speaker.Drawings.Count(n, one, many))
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

// hung is a thin top with a sink that hangs below narrow rails, and a basin close by.
func hung() estimate.Order {
	o := drawtest.Desk()
	first, second := measure.Length(600), measure.Length(1240)
	o.Top.Thickness, o.Top.Edge = 20, estimate.Edge{Profile: estimate.Square}
	o.Top.Corners[0] = estimate.Corner{Angle: o.Top.Corners[0].Angle}
	o.Top.Runs[0].Length = 3600
	o.Top.Cutouts = []estimate.Cutout{
		{Run: "A", Kind: "sink", Length: 600, Depth: o.Top.Runs[0].Depth - 20, FromStart: &first, FromFront: 10, Mount: estimate.MountUnder},
		{Run: "A", Kind: "basin", Length: 400, Depth: 300, FromStart: &second, FromFront: 150, Shape: plan.Oval}}
	return o
}

// open is a top with an apron sink.
func open() estimate.Order {
	o := drawtest.Desk()
	at := o.Top.Runs[0].Length / 3
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 600, Depth: 430, FromStart: &at}}
	return o
}

// crooked is a top whose walls are not straight, but for one.
func crooked() estimate.Order {
	o := drawtest.Desk()
	wall := func(run, edge string, middle measure.Length) estimate.WallOrder {
		return estimate.WallOrder{Run: run, Edge: edge, Offsets: []scribe.Offset{{At: 0}, {At: 200, Off: middle}, {At: 400}}}
	}
	o.Site.Walls = []estimate.WallOrder{wall("A", estimate.AtWall, 1), wall("A", estimate.AtStart, -9),
		wall("B", estimate.AtWall, 0), wall("B", estimate.AtEnd, 30)}
	return o
}

// slanting is a top at walls whose best lines leave their strings, one run through to the other's wall.
func slanting() estimate.Order {
	o := drawtest.Desk()
	o.Top.Corners[0].Joint = plan.Butt
	o.Site.Walls = []estimate.WallOrder{{Run: "A", Edge: estimate.AtWall, Offsets: []scribe.Offset{{At: 0}, {At: 1000, Off: 1}, {At: 2000, Off: 20}}},
		{Run: "B", Edge: estimate.AtWall, Offsets: []scribe.Offset{{At: 0}, {At: 900, Off: -9}, {At: 1800}}}}
	return o
}

// wished is a top of unequal depths whose lines shall turn the corner on the diagonal, cut with a hand-led saw for the first time.
func wished() estimate.Order {
	o := drawtest.Desk()
	o.Top.Runs[1].Depth, o.Top.Corners[0].Joint = 450, estimate.AutoJoint
	o.Top.Corners[0].Look, o.Shop.SeamCut, o.Shop.Experience = estimate.LookMitred, estimate.CircularSaw, estimate.FirstTime
	return o
}

// reflex is a top round an outer corner, of which one slab shall run through.
func reflex() estimate.Order {
	o := drawtest.Desk()
	o.Top.Corners[0].Angle, o.Top.Corners[0].Joint = 250*measure.Degree, estimate.AutoJoint
	o.Top.Corners[0].Look = estimate.LookStraight
	return o
}

// tight is a top of which one asks how tight its seams will be.
func tight() estimate.Order {
	o := drawtest.Counter()
	o.Site.Tolerances, o.Site.Lift = true, &estimate.LiftingOrder{}
	return o
}

// highUp is a straight top that is lifted too high, from a long way off.
func highUp() estimate.Order {
	o := drawtest.Desk()
	high := measure.Length(1900)
	o.Top.Runs, o.Top.Corners, o.Site.Lift = o.Top.Runs[:1], nil, &estimate.LiftingOrder{Height: &high}
	return o
}

// builtUp is a thick straight top with a built-up edge over cabinets and an appliance, in air so humid below it there; 0: the usual.
func builtUp(below measure.Humidity) estimate.Order {
	o := drawtest.Desk()
	o.Top.Runs, o.Top.Corners, o.Top.Thickness, o.Top.Build = o.Top.Runs[:1], nil, 3*measure.Inch, estimate.BuiltUp
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 800}, {Run: "A", Kind: base.Appliance, From: 800, To: 1400},
		{Run: "A", Kind: base.Cabinet, From: 1400, To: o.Top.Runs[0].Length - 700}}
	if below > 0 {
		o.Base[1].Air = &catalogue.Air{Humidity: below, Temperature: 30}
	}
	return o
}

// inPieces is a straight top longer than any board or panel, of which nothing is said below its first seam.
func inPieces(of estimate.Construction) estimate.Order {
	o := drawtest.Desk()
	o.Top.Runs, o.Top.Corners, o.Top.Construction = o.Top.Runs[:1], nil, of
	o.Top.Runs[0].Length = 260 * measure.Inch
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 1000}, {Run: "A", Kind: base.Legs, From: 2000, To: 2080},
		{Run: "A", Kind: base.Cabinet, From: 3000, To: o.Top.Runs[0].Length}}
	return o
}

// hanging is an L deeper than its cabinets, over a bay so wide, with what is added there.
func hanging(add estimate.AddSupport, bay measure.Length) estimate.Order {
	o := drawtest.Desk()
	o.Top.Runs[0].Length, o.Top.Runs[0].Depth, o.Top.Runs[1].Depth, o.Support.Add = 3600, 960, 960, add
	front, depth := measure.Length(350), measure.Length(560)
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 700, FromFront: &front, Depth: &depth},
		{Run: "A", Kind: base.Cabinet, From: 700 + bay, To: 3000, FromFront: &front, Depth: &depth},
		{Run: "B", Kind: base.Cabinet, From: 1000, To: 1800, FromFront: &front}}
	return o
}

// onlyInFront is a straight top whose cabinets stand far from the wall, over brackets and a batten that come with it.
func onlyInFront() estimate.Order {
	o := drawtest.Desk()
	o.Top.Runs, o.Top.Corners = o.Top.Runs[:1], nil
	o.Top.Runs[0].Depth = 900
	reach, deep := measure.Length(400), measure.Length(500)
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 1000, Depth: &deep}, {Run: "A", Kind: base.Bracket, From: 1400, To: 1440, Depth: &reach, Supply: true},
		{Run: "A", Kind: base.Batten, From: 1000, To: 1900, Supply: true}, {Run: "A", Kind: base.Legs, From: 1700, To: 1780, Supply: true},
		{Run: "A", Kind: base.Cabinet, From: 1900, To: 2400}}
	return o
}

// carried is a top with a way in: through a door, round a turn of corridors so wide, into a lift.
func carried(door, corridor measure.Length) estimate.Order {
	o := drawtest.Desk()
	o.Site.Way = []passage.Step{{Kind: passage.Door, Width: door, Height: 2000},
		{Kind: passage.Turn, First: corridor, Second: corridor, Height: 2300},
		{Kind: passage.Lift, Width: 1100, Depth: 1200, Height: 2150, DoorWidth: door, DoorHeight: 2000}}
	return o
}

// The name of a wood of two words is not torn.
func TestBoardsOfWoodsOfTwoWordsAreTold(t *testing.T) {
	speaker, err := In("de")
	require.NoError(t, err)
	for _, row := range seed(t, "item") {
		if name := row[2]; strings.HasSuffix(name, "mm, unedged, kiln-dried") {
			require.NotRegexp(t, `European|\b(oak|ash|beech|walnut|cherry|maple)\b`, speaker.Drawings.Told(name))
		}
	}
	require.Equal(t, "Eiche, Bohlen 52 mm, unbesäumt, kammergetrocknet", speaker.Drawings.Told("European oak 52 mm, unedged, kiln-dried"))
}

// Measures of what the seed sells have their own sign between them, in every language.
func TestMeasuresOfGoodsAreSetWithTheirSign(t *testing.T) {
	for _, tag := range words.Languages() {
		speaker, err := In(tag)
		require.NoError(t, err)
		signs := 0
		for _, row := range seed(t, "item") {
			told := speaker.Drawings.Told(row[2])
			require.NotRegexp(t, `\d x \d`, told, tag)
			if strings.Contains(row[2], " x ") {
				require.Equal(t, strings.Count(row[2], " x "), strings.Count(told, " × "), told)
				signs++
			}
		}
		require.Greater(t, signs, 300)
	}
}

func TestASentenceIsToldWithItsValues(t *testing.T) {
	s := pen.Speech{Comma: true, Words: map[string]string{"mm": "mm", "2 people": "zwei"},
		Names: map[string]string{"White ash": "Weißesche"},
		Sentences: []pen.Sentence{pen.Learn("Leave %s at the wall.", "An der Wand %s lassen."),
			pen.Learn("Only %s of %s.", "Von %[2]s nur %[1]s."), pen.Learn("No glue.", "Kein Leim, 100 %.")}}
	require.Equal(t, "An der Wand 2,5 mm lassen. Kein Leim, 100 %.", s.Told("Leave 2.5 mm at the wall. No glue."))
	require.Equal(t, "Von Weißesche nur zwei.", s.Told("Only 2 people of White ash."))
	require.Equal(t, "Kein Leim, 100 %. Not known. No glue.", s.Told("No glue. Not known. No glue."),
		"what follows what is not known stays as it is")
	require.True(t, s.Knows("No glue."))
	require.False(t, s.Knows("No glue. Not known."))
	s.Words["sink"], s.Words["and"] = "Spüle", "und"
	require.Equal(t, "An der Wand 2,5 mm, 3 mm und 4,5 mm lassen.", s.Told("Leave 2.5 mm, 3 mm and 4.5 mm at the wall."))
	s.Sentences = append(s.Sentences, pen.Learn("Run %s meets %s.", "%s trifft %s."), pen.Learn("a %s in run %s", "%s in %s"),
		pen.Learn("Oak %s", "Eiche %s"))
	english, err := In("en")
	require.NoError(t, err)
	require.Equal(t, "Sugar maple edge-glued panel 1-1/2 × 25-1/2 × 72 in",
		english.Drawings.Told("Sugar maple edge-glued panel 1-1/2 x 25-1/2 x 72 in"), "a name that begins a line has a capital")
	require.Equal(t, "sink trifft Spüle in sink.", s.Told("Run sink meets a sink in run sink."), "names of runs stay, clauses are told")
	require.Equal(t, "Oak 8/4. No glue.", s.Told("Oak 8/4. No glue."), "a name is no sentence")
	require.Equal(t, "Run A goes. No glue. Run B meets it.", s.Told("Run A goes. No glue. Run B meets it."), "no value is longer than its sentence")
	require.Equal(t, "As it is.", pen.Speech{}.Told("As it is."))
	require.Empty(t, strings.TrimSpace(s.Told("")))
}

// Each sentence with figures for its values is told in its own words, not in those of another that begins or ends alike.
func TestEverySentenceIsToldInItsOwnWords(t *testing.T) {
	t.Parallel()
	raw, err := os.ReadFile("sentences/de.json")
	require.NoError(t, err)
	var sentences map[string]string
	require.NoError(t, json.Unmarshal(raw, &sentences))
	s, err := In("de")
	require.NoError(t, err)
	for english, own := range sentences {
		values := make([]any, strings.Count(english, "%s"))
		for i := range values {
			values[i] = strconv.Itoa(11 + i)
		}
		said, want := english, own
		if len(values) > 0 {
			want = fmt.Sprintf(own, values...)
			for _, value := range values {
				said = strings.Replace(said, "%s", value.(string), 1)
			}
		}
		require.Equal(t, want, s.Drawings.Told(said), english)
	}
}

// A sentence whose value has an "or" of its own is not taken for one of two values.
func TestATelephoneNumberIsAskedForInWords(t *testing.T) {
	t.Parallel()
	s, err := In("de")
	require.NoError(t, err)
	told := s.Drawings.Told("Must be a telephone number: digits, blanks and ( ) . / -, a + before them or not.")
	require.Equal(t, "Muss eine Telefonnummer sein: Ziffern, Leerzeichen und ( ) . / -, davor ein + oder keines.", told)
	require.Equal(t, "Muss mindestens 5 Zeichen lang sein.", s.Drawings.Told("Must be at least 5 characters long."))
}
