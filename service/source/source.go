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
	WoodBonding       ID = "WH-10"
	WoodShrinkageLong ID = "WH-13-3"
	WoodCoefficients  ID = "WH-13-5"
	WoodInterior      ID = "WH-13-2"
	NDSScrews         ID = "NDS-12"
	NHLARules         ID = "NHLA"
	NISTUnits         ID = "NIST-SP-811"
	NISTHandbook44    ID = "NIST-HB-44"
	PERT              ID = "PERT-1959"
	Diffusion         ID = "Crank-1975"
	WoodDiffusion     ID = "Siau-1984"
	FinishExcluding   ID = "FPL-462"
	OutdoorMoisture   ID = "FPL-RN-0268"
	BeamFormulas      ID = "AWC-beams"
	JointSealant      ID = "ASTM-C1472"
	NIOSHLifting      ID = "NIOSH-1994"
	CITES             ID = "CITES"
	EuropeanSpecies   ID = "EUW-species"
	Swelling          ID = "differential-swelling"
	Tropix            ID = "CIRAD-Tropix"
	WoodPages         ID = "wood-pages"
	WoodDust          ID = "wood-dust"
	TimberLaw         ID = "timber-law"
	PlaneTrigonometry ID = "plane-trigonometry"
	PlaneRectangles   ID = "Carver-1957"
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
	{WoodBonding, handbook + "chapter 10, pressure on glued joints (from memory)"},
	{WoodInterior, handbook + "Table 13-2, recommended moisture content at installation"},
	{WoodShrinkageLong, handbook + "eq. 13-3, dimensional change from total shrinkage"},
	{WoodCoefficients, handbook + "Table 13-5, dimensional change coefficients for 6-14 % moisture content"},
	{Diffusion, "J. Crank, The Mathematics of Diffusion, 2nd ed. (1975), chapter 4, plane sheet (the standard series, remembered and evaluated); how fast wood is, only as a range"},
	{WoodDiffusion, "J. F. Siau, Transport Processes in Wood (1984), transverse diffusion of bound water and vapour together (from memory), raised by half to what was measured of spruce (Sanchez-Ferrer, Engelhardt 2026) and beech (Sonderegger and others 2011); measured values differ by a factor of two and more"},
	{FinishExcluding, "W. C. Feist, J. K. Little, J. M. Wennesheimer, The Moisture-Excluding Effectiveness of Finishes on Wood Surfaces, FPL Research Paper FPL 462 (1985), as quoted"},
	{OutdoorMoisture, "W. T. Simpson, Equilibrium Moisture Content of Wood in Outdoor Locations in the United States and Worldwide, FPL Research Note FPL-RN-0268 (1998)"},
	{NDSScrews, "American Wood Council, National Design Specification for Wood Construction (2018), chapter 12, withdrawal design values"},
	{BeamFormulas, "American Wood Council, Design Aid No. 6: Beam Design Formulas with Shear and Moment Diagrams (2007); over several supports: B. P. E. Clapeyron's theorem of three moments (1857)"},
	{NHLARules, "National Hardwood Lumber Association, Rules for the Measurement and Inspection of Hardwood and Cypress"},
	{NISTUnits, "NIST Special Publication 811 (2008), Guide for the Use of the International System of Units, Appendix B"},
	{NISTHandbook44, "NIST Handbook 44, Appendix C, General Tables of Units of Measurement"},
	{PERT, "D. G. Malcolm, J. H. Roseboom, C. E. Clark, W. Fazar, Application of a Technique for Research and Development Program Evaluation, Operations Research 7(5), 1959"},
	{NIOSHLifting, "T. R. Waters, V. Putz-Anderson, A. Garg, Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110 (1994)"},
	{CITES, "Convention on International Trade in Endangered Species of Wild Fauna and Flora, Appendices I to III (from memory; they change)"},
	{EuropeanSpecies, "Selected European wood species, data sheets of the European wood initiative (europeanwood.org): density, shrinkage, stiffness, strength and hardness by EN 350, as read there and in copies of the sheets"},
	{Swelling, "Differential swelling of European woods, percent per percent of moisture, as several tables of the trade print it (each named in testdata/published/european_woods.csv); DIN 68100, which they follow, was not read"},
	{Tropix, "CIRAD, Tropix, technological characteristics of tropical and temperate woods: the sheet of iroko"},
	{WoodPages, "Pages of timber traders and of one journal, each named in testdata/published/european_woods.csv"},
	{WoodDust, "Directive 2004/37/EC on carcinogens at work (hardwood dust) and TRGS 906, as quoted; which woods sensitise is remembered"},
	{TimberLaw, "Regulation (EU) 2023/1115 on wood and deforestation; Lacey Act of the United States, 16 U.S.C. 3371 (both from memory; they change)"},
	{JointSealant, "ASTM C1472, Standard Guide for Calculating Movement and Other Effects When Establishing Sealant Joint Width (as remembered: joint width from movement and movement class)"},
	{PlaneTrigonometry, "Plane trigonometry: law of cosines, rotation and projection of a line"},
	{
		PlaneRectangles,
		"W. B. Carver, Solution to Problem E 1225, American Mathematical Monthly 64 (1957), p. 114, a rectangle in a rectangle (as remembered; held against turning by small steps)",
	},
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
	count := 0
	for i := range list {
		if used(list[i].ID) {
			count++
		}
	}
	if count == 0 {
		return nil
	}
	out := make([]Source, 0, count)
	for _, s := range list {
		if used(s.ID) {
			out = append(out, s)
		}
	}
	return out
}
