package estimate

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/price"
	"seamwright/service/takeoff"
)

// noFinish is the system that leaves the wood bare.
const noFinish = "none"

// defaultFinish is the system taken when none is named.
const defaultFinish = "hardwax_oil"

func (w *work) resolveFinish() error {
	f := &w.order.Finish
	if f.System == "" {
		f.System = defaultFinish
		w.assume("/finish/system", defaultFinish, "a finish that the owner can renew in patches")
	}
	if f.Faces == "" {
		f.Faces = BothFaces
		w.assume("/finish/faces", string(BothFaces), "a slab finished on one face only cups")
	}
	if f.System == noFinish {
		w.warn("bare_wood", Caution, "/finish/system",
			"Bare wood takes stains and follows the air's moisture faster than finished wood.")
		return nil
	}
	w.finish = w.cat.FinishOf(f.System)
	if w.finish == nil {
		return unknown("/finish/system", "finish", f.System, append(w.cat.FinishSystems(), noFinish))
	}
	w.coats = f.Coats
	if w.coats == 0 {
		w.coats = w.finish.Finish.Coats
		w.assume("/finish/coats", w.coats, "the usual number of coats of this finish")
	}
	if f.Faces == TopFace {
		w.warn("one_face_finished", Caution, "/finish/faces",
			"A slab finished on one face only takes up moisture on the other and cups. Finish both faces alike.")
	}
	return nil
}

func (w *work) resolveShop() error {
	s := &w.order.Shop
	if s.SeamCut == "" {
		s.SeamCut = TrackSaw
		w.assume("/shop/seam_cut", string(TrackSaw), "a saw guided on a track cuts a long straight seam in one pass")
	}
	if s.Experience == "" {
		s.Experience = Practised
		w.assume("/shop/experience", string(Practised), "has made tops before")
	}
	if w.order.Site.AssembledBy == "" {
		w.order.Site.AssembledBy = "shop"
	}
	return nil
}

func (w *work) resolveTerms() error {
	p := &w.order.Pricing
	if p.Currency != "" && p.Currency != w.set.Currency {
		return impossible("/currency", fmt.Sprintf("The catalogue's prices are in %s, not %s; currencies are never mixed.",
			w.set.Currency, p.Currency), "Leave out the currency or ask for "+w.set.Currency+".")
	}
	s := w.set
	w.terms = price.Terms{Overhead: s.Overhead, Contingency: s.Contingency, Basis: price.Basis(s.Basis), Rate: s.Rate,
		Tax: s.Tax, RoundTo: s.RoundTo, TotalTo: p.TotalTo, Deposit: s.Deposit,
		Discounts: p.Discounts, Lines: p.Lines}
	const why = "the shop's terms"
	if p.Basis != "" {
		w.terms.Basis = price.Basis(p.Basis)
		if p.Rate == nil && p.Basis != s.Basis {
			return impossible("/rate", fmt.Sprintf("The shop's rate of %s %% is a %s; a %s needs its own rate.", s.Rate, s.Basis,
				p.Basis), "Give the rate, or leave out the basis.")
		}
	} else {
		w.assume("/pricing/basis", s.Basis, why)
	}
	w.terms.Rate = w.rate(p.Rate, s.Rate, "/pricing/rate", why)
	if err := w.resolveTax(why); err != nil {
		return err
	}
	w.terms.Deposit = w.rate(p.Deposit, s.Deposit, "/pricing/deposit", why)
	if w.terms.Basis == price.Margin && w.terms.Rate.Float() >= 100 {
		return impossible("/rate", "A margin is a share of the price: it must be under 100 %.",
			`Use "basis": "markup" for a share of the cost.`)
	}
	return nil
}

// resolveTax takes the rates of the region that is named, or the one that is given, or the shop's.
func (w *work) resolveTax(why string) error {
	p := &w.order.Pricing
	if p.Region == "" {
		w.terms.Tax = w.rate(p.Tax, w.set.Tax, "/pricing/tax", why)
		return nil
	}
	r := w.cat.TaxRegionByCode(p.Region)
	switch {
	case p.Tax != nil:
		return impossible("/tax", "The rates of the region are those of the shop's table; no other can be given with it.",
			"Leave out tax, or tax_region.")
	case r == nil && len(w.cat.TaxRegions) == 0:
		return impossible("/tax_region", fmt.Sprintf("The shop has no tax regions, so that none is %q.", p.Region),
			"Put in the table by PUT /v1/tax-regions/{code}, or leave it out: the shop's own rate then holds.")
	case r == nil:
		return unknown("/tax_region", "tax region", p.Region, codes(w.cat.TaxRegions,
			func(r *catalogue.TaxRegion) string { return r.Code }))
	}
	w.terms.Tax, w.terms.Region = r.Rate, &price.Region{Code: r.Code, Name: r.Name}
	w.assume("/pricing/tax", r.Rate.Float(), "the shop's table of tax regions: "+r.Name)
	if r.OwnLines {
		w.terms.LinesTax = &r.Lines
	}
	return nil
}

func (w *work) rate(given *money.Rate, usual money.Rate, pointer, why string) money.Rate {
	if given != nil {
		return *given
	}
	w.assume(pointer, usual.Float(), why)
	return usual
}

// resolveWood picks the lumber or the panels of each run, and the glue.
func (w *work) resolveWood() error {
	w.layers = 1
	err := w.checkBuild()
	if err == nil {
		err = w.checkBuiltUp()
	}
	if err != nil {
		return err
	}
	if w.order.Top.Build == Laminated || w.builtUp() {
		return w.laminate(nil)
	}
	if err = w.pickWood(w.order.Top.Thickness); err != nil && w.order.Top.Build == "" && onlyThickness(err) {
		return w.laminate(err)
	}
	return w.orLaminated(err)
}

// orLaminated adds to a refusal of solid slabs that boards are too thin for that layers would do, where they would.
func (w *work) orLaminated(err error) error {
	if w.order.Top.Build != Solid || !onlyThickness(err) || w.order.Top.Construction != EdgeGlued || w.leastLayers() == mostLayers {
		return err
	}
	for _, f := range fault.All(err) {
		f.Fix += ` Or ask for "build": "laminated".`
	}
	return err
}

// pickWood picks the lumber or the panels of each run for boards of a thickness, and the glue.
func (w *work) pickWood(thickness measure.Length) error {
	var wrong fault.List
	t := &w.order.Top
	day := w.order.Pricing.AsOf
	w.stocks = make([]*takeoff.Stock, len(w.runs))
	w.panels = make([]*takeoff.PanelStock, len(w.runs))
	for i := range w.runs {
		r := &w.runs[i]
		w.hardest = max(w.hardest, measure.Force(r.species.SideHardness.Value))
		var err error
		if t.Construction == Panel {
			var p *takeoff.PanelStock
			if p, err = takeoff.PickPanels(w.cat, r.Run.Species, r.Sawn, thickness, w.blankDepth(i),
				t.Staves == FingerJointed, day, w.units); err == nil {
				w.panels[i] = w.sharedPanels(i, p)
			}
		} else if w.stocks[i] = w.sameStock(i); w.stocks[i] == nil {
			w.stocks[i], err = w.shed.Lumber(r.Run.Species, r.Sawn, thickness, day, w.units)
		}
		addOnce(&wrong, w.aboutRun(i, err))
	}
	if t.Construction == EdgeGlued || w.layers > 1 {
		if glues := w.cat.Glues(); len(glues) > 0 {
			w.glue = glues[0]
		} else {
			wrong.Add("", impossible("/top/construction", "No glue is in the catalogue.", "Add one, or use ready-made panels."))
		}
	}
	return wrong.Err()
}

func (w *work) sameStock(i int) *takeoff.Stock {
	for k := range i {
		if w.sameBoards(k, i) {
			return w.stocks[k]
		}
	}
	return nil
}

// sameBoards reports whether two runs are of the same wood, sawn at the same price: flat and mixed are the same boards.
func (w *work) sameBoards(k, i int) bool {
	a, b := &w.runs[k], &w.runs[i]
	own := func(s catalogue.Sawn) bool { return s == catalogue.QuarterSawn || s == catalogue.RiftSawn }
	return a.Run.Species == b.Run.Species && (a.Sawn == b.Sawn || !own(a.Sawn) && !own(b.Sawn))
}

// sharedPanels returns an earlier run's panels when they are of the same species and width: slabs of slightly different
// depth are cut from the same panels, together.
func (w *work) sharedPanels(i int, p *takeoff.PanelStock) *takeoff.PanelStock {
	for k := range i {
		if q := w.panels[k]; q != nil && w.sameBoards(k, i) && q.Width.Near(p.Width) {
			return q
		}
	}
	return p
}

// aboutRun leads a fault about a run's wood to where the request says it.
func (w *work) aboutRun(i int, err error) error {
	for _, f := range fault.All(err) {
		switch {
		case f.Pointer == "/species" && w.order.Top.Runs[i].Species == "":
			f.Pointer = "/top/species"
		case f.Pointer == "/thickness":
			f.Pointer = "/top/thickness"
		case f.Pointer != "/pricing/as_of":
			f.Pointer = fmt.Sprintf("/top/runs/%d%s", i, f.Pointer)
		}
	}
	return err
}

// addOnce adds faults that are not in the list yet: two runs of one wood fail alike.
func addOnce(list *fault.List, err error) {
	for _, f := range fault.All(err) {
		known := false
		for _, g := range *list {
			known = known || *g == *f
		}
		if !known {
			list.Add("", f)
		}
	}
}

func (w *work) resolveFixing() error {
	f := &w.order.Top.Fixing
	if f.Kind == "" {
		f.Kind = FixClips
		w.assume("/top/fixing/kind", string(FixClips), "clips in slots hold the top down and let it move")
	}
	kind := catalogue.SlottedClip
	switch f.Kind {
	case FixNone:
		return nil
	case FixRigid:
		return w.rigid()
	case FixScrews:
		kind = catalogue.SlottedScrew
	case FixEights:
		kind = catalogue.FigureEight
	case FixButtons:
		kind = catalogue.Button
	case FixInserts:
		kind = catalogue.ThreadedInsert
	case FixClips:
	}
	list := w.cat.FastenersOf(kind)
	if len(list) == 0 {
		return impossible("/kind", fmt.Sprintf("No %s is in the catalogue.", kind), "Choose another way of fixing.")
	}
	w.fixing = list[0]
	for _, f := range list {
		if f.Fits(w.order.Top.Thickness) {
			w.fixing = f
			return nil
		}
		if f.Penetration < w.fixing.Penetration { // none may fit: the one that leaves most wood above it
			w.fixing = f
		}
	}
	return w.comesThrough()
}

// comesThrough refuses a fixing that is bored or driven into the top and would come through it. An insert's bore has the
// drill's point before it, so that its row's least thickness holds.
func (w *work) comesThrough() error {
	f, thickness := w.fixing, w.order.Top.Thickness
	least := f.LeastThickness
	switch f.Kind.Under() {
	case catalogue.Upright:
		least = f.Penetration + tolerance
	case catalogue.Inserted:
	case catalogue.NotUnder, catalogue.Clipped, catalogue.Arm, catalogue.Post:
		return nil
	}
	if thickness >= least {
		return nil
	}
	fix := `Use "slotted_clips" with short screws.`
	if thick, found := w.onSale(least); found {
		fix = fmt.Sprintf(`Use "slotted_clips" with short screws, or a top of %s.`, w.phraseUp(thick))
	}
	return impossible("/kind", fmt.Sprintf("Every %s on sale would come through a top of %s; the shortest needs %s.",
		f.Kind.Traits().Name, w.phrase(thickness), w.phraseUp(least)), fix)
}

// rigid refuses a fixing that does not let the slab move, with the numbers of the run that moves most.
func (w *work) rigid() error {
	most := &w.runs[0]
	for i := range w.runs {
		if w.runs[i].move.Range > most.move.Range {
			most = &w.runs[i]
		}
	}
	move, unit := &most.move, w.units
	whole := measure.Span(move.ToDry, move.ToHumid, unit, measure.FinePlaces(unit)) // beside its parts
	return impossible("/kind", fmt.Sprintf("A slab fixed rigidly along both edges splits or bows: run %s is %s deep and its width changes by %s over the year (%s to %s).",
		most.Name, w.phrase(most.Depth), whole.Fine(unit), move.ToDry.Fine(unit), move.ToHumid.Fine(unit)),
		`Use "slotted_clips" or "slotted_screws".`)
}
