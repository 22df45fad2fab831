// Package catalogue is what a shop knows: species, fasteners, materials with prices, labour standards
// and roles, climate profiles and settings. Types without behaviour beyond finding a thing by its code.
package catalogue

import (
	"seamwright/service/measure"
	"seamwright/service/money"
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

	Dust       string // what its dust does, a sentence; empty: nothing beyond what holds for all dust
	DustSource source.ID
	Law        string // what the law says of the trade in it, a sentence; empty: nothing is known
	LawSource  source.ID

	Tangential Property // change of width per percent of moisture, flat-sawn (fraction per percent), valid 6–14 %
	Radial     Property // the same for quarter-sawn

	ShrinkageTangential Property // green to oven-dry, percent of the green dimension
	ShrinkageRadial     Property
	ShrinkageVolumetric Property
	FibreSaturation     Property // percent moisture at which shrinkage starts: 30, for some softwoods 22

	GravityGreen Property // oven-dry mass / green volume, relative to water
	Gravity12    Property // oven-dry mass / volume at 12 %

	Elasticity      Property // bending modulus of elasticity at 12 %, GPa
	BendingStrength Property // modulus of rupture along the grain at 12 %, kPa
	TensionAcross   Property // tension strength across the grain at 12 %, kPa
	RatioTangential Property // E_T / E_L
	RatioRadial     Property // E_R / E_L
	RatioRolling    Property // G_RT / E_L: rolling shear, in the plane across the grain
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

// TaxRegion is where the shop sells to, with what is taxed there.
type TaxRegion struct {
	Code     string
	Version  int64 // counts the changes of the row; 0 when it is from no database
	Name     string
	Rate     money.Rate // on the net price of a top
	Lines    money.Rate // on what is sold with it, where OwnLines
	OwnLines bool       // false: extra lines are taxed as the top is
	Note     string
}

// LinesRate is the tax on extra lines that name none of their own.
func (r *TaxRegion) LinesRate() money.Rate {
	if r.OwnLines {
		return r.Lines
	}
	return r.Rate
}

// Place is where the air makes wood of so many percent through the year, outdoors under cover.
type Place struct {
	Code     string
	Version  int64 // counts the changes of the row; 0 when it is from no database
	Name     string
	Months   [12]measure.Moisture
	Source   source.ID
	Verified bool // read in a copy of the source, or confirmed against a second one; false: remembered
	Note     string
}
