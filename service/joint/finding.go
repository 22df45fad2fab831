package joint

// Rule names what a finding is about.
type Rule string

// The rules.
const (
	EdgeProfile   Rule = "edge_profile"
	MovementRule  Rule = "movement"
	Strength      Rule = "strength"
	UnequalDepths Rule = "unequal_depths"
	Cutting       Rule = "cutting"
	Site          Rule = "site"
	Thickness     Rule = "thickness"
	LookRule      Rule = "look"
	CostRule      Rule = "cost"
)

// Effect is what a finding says about a joint. A fact that weighs neither way is a For of no points.
type Effect string

// The effects.
const (
	For      Effect = "for"
	Against  Effect = "against"
	Excludes Effect = "excludes"
)

// Finding is one reason for or against a joint, with its numbers in plain words.
type Finding struct {
	Rule   Rule
	Effect Effect
	Points int
	Text   string
}
