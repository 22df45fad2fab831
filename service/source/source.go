// Package source is the one list of publications that the service rests on. The same ID stands in
// comments, answers and docs. It imports nothing of ours.
//
// The line that computes a published equation or holds a table's number is marked with it: "WH eq. 4-5" is the Wood
// Handbook's, "NDS eq. 12.2-1" the National Design Specification's, "NIOSH 94-110, HM" the lifting manual's, and so on.
package source

// ID names a publication, or the part of it that a number comes from.
type ID string

// The sources. "Common practice" is shop knowledge with no published source: its numbers are
// defaults that a shop can change. "Demo" marks the invented data of the shipped catalogue.
const (
	None              ID = ""
	WoodEMC           ID = "WH-4-5"
	WoodEMCTable      ID = "WH-4-2"
	WoodShrinkage     ID = "WH-4-3"
	WoodShrinkageImp  ID = "WH-4-4"
	WoodDensity       ID = "WH-4-density"
	WoodElastic       ID = "WH-5-1"
	WoodStrength      ID = "WH-5-3"
	WoodStrengthImp   ID = "WH-5-5"
	WoodGrades        ID = "WH-6-1"
	WoodThickness     ID = "WH-6-3"
	WoodScrews        ID = "WH-8"
	WoodShrinkageLong ID = "WH-13-3"
	WoodCoefficients  ID = "WH-13-5"
	WoodInterior      ID = "WH-13-2"
	NDSScrews         ID = "NDS-12"
	NHLARules         ID = "NHLA"
	NISTUnits         ID = "NIST-SP-811"
	NISTHandbook44    ID = "NIST-HB-44"
	PERT              ID = "PERT-1959"
	Diffusion         ID = "Crank-1975"
	JointSealant      ID = "ASTM-C1472"
	NIOSHLifting      ID = "NIOSH-1994"
	PlaneTrigonometry ID = "plane-trigonometry"
	CommonPractice    ID = "common-practice"
	Demo              ID = "demo"
)

// Source is a publication as an answer shows it.
type Source struct {
	ID    ID
	Title string
}

const handbook = "USDA Forest Products Laboratory, Wood Handbook: Wood as an Engineering Material, FPL-GTR-190 (2010), "

// list is in the order in which answers show it.
var list = []Source{
	{WoodEMCTable, handbook + "Table 4-2, equilibrium moisture content"},
	{WoodEMC, handbook + "eq. 4-5, equilibrium moisture content from humidity and temperature"},
	{WoodShrinkage, handbook + "Table 4-3, shrinkage of domestic woods"},
	{WoodShrinkageImp, handbook + "Table 4-4, shrinkage of imported woods"},
	{WoodDensity, handbook + "chapter 4, density and specific gravity; W. T. Simpson, FPL-GTR-76 (1993)"},
	{WoodElastic, handbook + "Table 5-1, elastic ratios"},
	{WoodStrength, handbook + "Table 5-3, mechanical properties of domestic woods"},
	{WoodStrengthImp, handbook + "Table 5-5, mechanical properties of imported woods"},
	{WoodGrades, handbook + "Table 6-1, hardwood lumber grades"},
	{WoodThickness, handbook + "Table 6-3, rough and surfaced thickness of hardwood lumber"},
	{WoodScrews, handbook + "chapter 8, withdrawal resistance of screws"},
	{WoodInterior, handbook + "Table 13-2, recommended moisture content at installation"},
	{WoodShrinkageLong, handbook + "eq. 13-3, dimensional change from total shrinkage"},
	{WoodCoefficients, handbook + "Table 13-5, dimensional change coefficients for 6-14 % moisture content"},
	{Diffusion, "J. Crank, The Mathematics of Diffusion, 2nd ed. (1975), chapter 4, plane sheet (the standard series, remembered and evaluated); how fast wood is, only as a range"},
	{NDSScrews, "American Wood Council, National Design Specification for Wood Construction (2018), chapter 12, withdrawal design values"},
	{NHLARules, "National Hardwood Lumber Association, Rules for the Measurement and Inspection of Hardwood and Cypress"},
	{NISTUnits, "NIST Special Publication 811 (2008), Guide for the Use of the International System of Units, Appendix B"},
	{NISTHandbook44, "NIST Handbook 44, Appendix C, General Tables of Units of Measurement"},
	{PERT, "D. G. Malcolm, J. H. Roseboom, C. E. Clark, W. Fazar, Application of a Technique for Research and Development Program Evaluation, Operations Research 7(5), 1959"},
	{NIOSHLifting, "T. R. Waters, V. Putz-Anderson, A. Garg, Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110 (1994)"},
	{JointSealant, "ASTM C1472, Standard Guide for Calculating Movement and Other Effects When Establishing Sealant Joint Width (as remembered: joint width from movement and movement class)"},
	{PlaneTrigonometry, "Plane trigonometry: law of cosines, rotation and projection of a line"},
	{CommonPractice, "Common practice: shop knowledge without a published source; a default that a shop can change"},
	{Demo, "Invented demonstration data of a fictional shop"},
}

// Title returns the title of a source, or its ID when the list does not have it.
func Title(id ID) string {
	for _, s := range list {
		if s.ID == id {
			return s.Title
		}
	}
	return string(id)
}

// Known reports whether the list has the ID.
func Known(id ID) bool {
	for _, s := range list {
		if s.ID == id {
			return true
		}
	}
	return false
}

// Select returns the sources that used says yes to, in the list's order.
func Select(used func(ID) bool) []Source {
	var out []Source
	for _, s := range list {
		if used(s.ID) {
			out = append(out, s)
		}
	}
	return out
}
