package orderform

import "seamwright/service/measure"

type object = map[string]any

// Schema returns the JSON Schema (draft 2020-12) of a request, for this form's units: what it accepts is what Check
// accepts. x-order says in which order a person should be asked.
func (f *Form) Schema() map[string]any {
	number := func(l measure.Length) float64 { return l.Number(f.Units) }
	unit := f.Units.String()
	read := f.say(unit)
	positive := func(title string) object {
		return object{"type": "number", "exclusiveMinimum": 0, "maximum": MostMeasure, "title": title + " (" + read + ")"}
	}
	side := object{"type": "object", "additionalProperties": false, "required": []string{"long", "deep"},
		"properties": object{
			"long": object{"type": "number", "minimum": number(f.LeastLength), "maximum": number(f.MostLength),
				"title": f.say("Length along the wall") + " (" + read + ")", "x-order": 1},
			"deep": object{"type": "number", "minimum": number(f.LeastDepth), "maximum": number(f.MostDepth),
				"title": f.say("Depth from the wall") + " (" + read + ")", "x-order": 2},
		}}
	fromFront := object{"type": "number", "minimum": 0, "maximum": MostMeasure, "title": f.say("From the front") + " (" + read + ")",
		"description": f.say("Left empty, the opening lies in the middle.")}
	corner := object{"type": "object", "additionalProperties": false, "required": []string{"angle"}, "properties": object{
		"angle": object{"type": "number", "minimum": LeastCorner, "maximum": MostCorner, "default": 90,
			"title": f.say("Angle on the room's side (degrees)")}}}
	opening := object{"type": "object", "additionalProperties": false,
		"required": []string{"for", "side", "long", "deep", "from_left"}, "properties": object{
			"for":  pick(f.say("For"), f.Openings, 1, false),
			"side": object{"type": "integer", "minimum": 1, "maximum": len(f.Shapes), "title": f.say("In which side"), "x-order": 2},
			"long": positive(f.say("Length along the wall")),
			"deep": positive(f.say("Depth")),
			"from_left": object{"type": "number", "minimum": 0, "maximum": MostMeasure,
				"title":       f.say("From the left end of the side") + " (" + read + ")",
				"description": f.say("As you stand before it.")},
			"from_front": fromFront,
			"shape":      pick(f.say("Its shape"), f.titled(openingShapes), 7, true),
			"mount":      pick(f.say("How it is held"), f.titled(mounts), 8, true),
		}}
	stretch := object{"type": "object", "additionalProperties": false, "required": []string{"side", "kind", "from", "to"},
		"properties": object{
			"kind": pick(f.say("What stands there"), f.Below, 1, false),
			"side": object{"type": "integer", "minimum": 1, "maximum": len(f.Shapes), "title": f.say("Below which side"), "x-order": 2},
			"from": object{"type": "number", "minimum": 0, "maximum": MostMeasure, "title": f.say("Begins at") + " (" + read + ")",
				"description": f.say("From the left end of the side, as you stand before it."), "x-order": 3},
			"to": object{"type": "number", "exclusiveMinimum": 0, "maximum": MostMeasure, "title": f.say("Ends at") + " (" + read + ")",
				"description": f.say("From the same left end."), "x-order": 4},
		}}
	properties := object{
		"units": object{"const": unit, "title": f.say("Unit of all measures"), "x-order": 1},
		"shape": pick(f.say("Shape"), f.Shapes, 2, false),
		"turns": pick(f.say("Facing the first side's wall, the top turns"), f.Turns, 3, true),
		"sides": object{"type": "array", "minItems": 1, "maxItems": len(f.Shapes), "items": side, "title": f.say("Sides"),
			"x-order": 4},
		"corners": object{"type": "array", "maxItems": max(len(f.Shapes)-1, 0), "items": corner,
			"title": f.say("Corners, when they are not square"), "x-order": 5},
		"wood":       pick(f.say("Wood"), f.Woods, 8, false),
		"thickness":  f.thickness(),
		"front_edge": pick(f.say("Front edge"), f.Edges, 10, true),
		"finish":     pick(f.say("Finish"), f.Finishes, 11, true),
		"room":       pick(f.say("Room that it stands in"), f.Rooms, 12, true),
		"openings":   object{"type": "array", "maxItems": MostOpenings, "items": opening, "title": f.say("Openings"), "x-order": 6},
		"base":       object{"type": "array", "maxItems": MostBelow, "items": stretch, "title": f.say("What stands below"), "x-order": 7},
	}
	return object{"$schema": "https://json-schema.org/draft/2020-12/schema", "title": f.say("A top"), "type": "object",
		"additionalProperties": false,
		"required":             []string{"units", "shape", "sides", "wood", "thickness"}, "properties": properties,
		"allOf": f.bySides()}
}

// thickness has the middle one of what is on offer as its default: a form begins with it, though each request must name one.
func (f *Form) thickness() object {
	out := object{"enum": f.thicknessWords(), "title": f.say("Thickness") + " (" + f.say(f.Units.String()) + ")", "x-order": 9}
	if n := len(f.Thicknesses); n > 0 {
		out["default"] = f.Thicknesses[n/2].Word
	}
	return out
}

// bySides says for each shape how many sides and corners it has, and which sides can have an opening or something below.
func (f *Form) bySides() []any {
	rules := make([]any, len(f.Shapes))
	for i, s := range f.Shapes {
		rules[i] = object{
			"if": object{"properties": object{"shape": object{"const": s.Word}}, "required": []string{"shape"}},
			"then": object{"properties": object{
				"sides":    object{"minItems": i + 1, "maxItems": i + 1},
				"corners":  object{"anyOf": []any{object{"maxItems": 0}, object{"minItems": i, "maxItems": i}}},
				"openings": object{"items": object{"properties": object{"side": object{"maximum": i + 1}}}},
				"base":     object{"items": object{"properties": object{"side": object{"maximum": i + 1}}}},
			}},
		}
	}
	return rules
}

// pick is a choice among words, each with its title.
func pick(title string, choices []Choice, order int, first bool) object {
	options := make([]any, len(choices))
	for i, c := range choices {
		options[i] = object{"const": c.Word, "title": c.Title}
	}
	out := object{"type": "string", "oneOf": options, "title": title, "x-order": order}
	if first && len(choices) > 0 {
		out["default"] = choices[0].Word
	}
	return out
}
