// Package catalogue is what a shop knows: species, fasteners, materials with prices, labour standards
// and roles, climate profiles and settings. Types without behaviour beyond finding a thing by its code.
package catalogue

import (
	"seamwright/service/measure"
	"seamwright/service/source"
)

// Property is one published number of a species. Known is false when no source gives it; then Value
// means nothing and must not be used.
type Property struct {
	Value    float64
	Known    bool
	Source   source.ID
	Verified bool   // read in a copy of the source, or confirmed against a second one; false: remembered
	Note     string // what a reader should know about this one value
}

// Group tells hardwoods from softwoods.
type Group string

// The groups.
const (
	Hardwood Group = "hardwood"
	Softwood Group = "softwood"
	Imported Group = "imported" // hardwoods from abroad, listed apart in the handbook
)

// Species is a wood with its published properties.
type Species struct {
	Code      string
	Version   int64 // counts the changes of the row; 0 when it is from no database
	Name      string
	Botanical string
	Group     Group

	Tangential Property // change of width per percent of moisture, flat-sawn (fraction per percent), valid 6–14 %
	Radial     Property // the same for quarter-sawn

	ShrinkageTangential Property // green to oven-dry, percent of the green dimension
	ShrinkageRadial     Property
	ShrinkageVolumetric Property
	FibreSaturation     Property // percent moisture at which shrinkage starts: 30, for some softwoods 22

	GravityGreen Property // oven-dry mass / green volume, relative to water
	Gravity12    Property // oven-dry mass / volume at 12 %

	Elasticity      Property // bending modulus of elasticity at 12 %, GPa
	TensionAcross   Property // tension strength across the grain at 12 %, kPa
	RatioTangential Property // E_T / E_L
	RatioRadial     Property // E_R / E_L
	SideHardness    Property // side hardness at 12 %, N
}

// Sawn tells how the growth rings lie in a board.
type Sawn string

// The ways of sawing.
const (
	FlatSawn    Sawn = "flat"
	QuarterSawn Sawn = "quarter"
	RiftSawn    Sawn = "rift"
	MixedSawn   Sawn = "mixed"
)

// Air is a state of the air around the wood.
type Air struct {
	Humidity    measure.Humidity
	Temperature measure.Temperature
}

// Climate is a season: a state of the air, or directly the moisture content that the wood settles at.
type Climate struct {
	Air      Air
	Moisture measure.Moisture
	IsAir    bool // true: Air counts; false: Moisture counts
}

// ClimateProfile is a named pair of seasons.
type ClimateProfile struct {
	Code    string
	Version int64 // counts the changes of the row; 0 when it is from no database
	Name    string
	Dry     Climate
	Humid   Climate
	Source  source.ID
	Note    string
}
