package estimate

import "seamwright/service/catalogue"

// warnListed says what the law asks of those who trade in the top's woods, and which may cross borders with permits
// alone.
func (w *work) warnListed() {
	for i := range w.runs {
		s := w.runs[i].species
		if s.Law != "" {
			w.cite(s.LawSource)
			w.warnOnce("wood_law", Info, "/top/species", s.Name+": "+s.Law)
		}
		l, ok := catalogue.ListingOf(s)
		if !ok {
			continue
		}
		w.cite(l.Source)
		w.warnOnce("wood_listed", Caution, "/top/species", "The trade in "+s.Name+
			" is ruled by Appendix "+l.Appendix+" of CITES: it crosses borders with permits alone, and the seller shows where it came from. The list is remembered and changes: ask the authority of your country.")
	}
}
