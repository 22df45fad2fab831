package jobs

import (
	"seamwright/api/wire"
	"seamwright/service/basket"
	"seamwright/service/catalogue"
	"seamwright/service/learning"
	"seamwright/service/money"
)

// learnings is what the reports say, as answers show it.
type learnings struct {
	Catalogue   version      `json:"catalogue"`
	Currency    string       `json:"currency"`
	Jobs        int          `json:"jobs"`
	From        *string      `json:"from"`
	To          *string      `json:"to"`
	Between     float64      `json:"between_jobs"`
	CommonShare share        `json:"common_share"`
	Proposals   []proposal   `json:"proposals"`
	Settings    []setting    `json:"settings"`
	Prices      []price      `json:"prices"`
	Calibration []covered    `json:"calibration"`
	Assumptions []assumption `json:"assumptions"`
	Sources     []work       `json:"sources"`
}

type version struct {
	Revision int64 `json:"revision"`
}

// share is the part of the steps' spread that a job's steps have in common: the setting, and what the jobs say.
type share struct {
	Setting float64  `json:"setting"`
	Learned *float64 `json:"learned"`
}

type proposal struct {
	Code     string   `json:"code"`
	Name     string   `json:"name"`
	Status   string   `json:"status"`
	Why      string   `json:"why"`
	Factor   float64  `json:"factor"`
	Before   standard `json:"before"`
	After    standard `json:"after"`
	Evidence evidence `json:"evidence"`
	Effects  []effect `json:"effects"`
}

// setting is a proposal for a setting; learned and its bounds are what the jobs say alone.
type setting struct {
	Code    string   `json:"code"`
	Key     string   `json:"key"`
	Status  string   `json:"status"`
	Why     string   `json:"why"`
	Before  float64  `json:"before"`
	After   float64  `json:"after"`
	Jobs    int      `json:"jobs"`
	Learned float64  `json:"learned"`
	Low     float64  `json:"low"`
	High    float64  `json:"high"`
	Figure  string   `json:"effects_on"`
	Effects []effect `json:"effects"`
}

// price is a proposal for the price of a pack.
type price struct {
	Code      string          `json:"code"`
	Item      string          `json:"item"`
	Name      string          `json:"name"`
	Size      money.Quantity  `json:"pack_size"`
	Supplier  string          `json:"supplier"`
	ValidFrom catalogue.Date  `json:"valid_from"`
	Status    string          `json:"status"`
	Why       string          `json:"why"`
	Factor    float64         `json:"factor"`
	Before    money.UnitPrice `json:"before"`
	After     money.UnitPrice `json:"after"`
	Evidence  evidence        `json:"evidence"`
	Effects   []effect        `json:"effects"`
}

type standard struct {
	Setup spread `json:"setup"`
	Each  spread `json:"each"`
}

type spread struct {
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
}

// evidence is of logarithms of minutes taken over minutes estimated.
type evidence struct {
	Jobs   int     `json:"jobs"`
	Mean   float64 `json:"mean"`
	Weight float64 `json:"weight"`
	Off    float64 `json:"off"`
	Error  float64 `json:"error"`
	Within float64 `json:"within_jobs"`
	Wild   int     `json:"wild"`
}

type effect struct {
	Reference string        `json:"reference"`
	Before    *money.Amount `json:"before"`
	After     *money.Amount `json:"after"`
	Percent   *string       `json:"percent"`
	Reason    *string       `json:"reason"`
}

type covered struct {
	Percent   float64 `json:"percent"`
	Of        int     `json:"of"`
	Estimated under   `json:"estimated"`
	Learned   under   `json:"learned"`
	Error     float64 `json:"error"`
}

type under struct {
	Under int     `json:"under"`
	Share float64 `json:"share"`
}

type assumption struct {
	Pointer string `json:"pointer"`
	Value   any    `json:"value"`
	Why     string `json:"why"`
}

type work struct {
	ID    string `json:"id"`
	Title string `json:"title"`
}

func shownLearned(l *learned, cat *catalogue.Snapshot) learnings {
	out := learnings{
		Catalogue:   version{cat.Revision},
		Currency:    cat.Settings.Currency,
		Jobs:        len(l.jobs),
		From:        wire.Maybe(l.from),
		To:          wire.Maybe(l.to),
		Between:     wire.Rounded(l.model.Between, 4),
		CommonShare: share{Setting: cat.Settings.CommonShare},
		Proposals:   wire.Shown(l.proposals, func(p *learning.Proposal) proposal { return shownProposal(l, p) }),
		Settings:    wire.Shown(l.settings, func(p *learning.Setting) setting { return shownSetting(l, p) }),
		Prices:      wire.Shown(l.prices, func(p *learning.Price) price { return shownPrice(l, p) }),
		Assumptions: assumptions,
		Sources:     sources,
	}
	if len(l.jobs) > 0 {
		x := wire.Rounded(l.model.Share, 3)
		out.CommonShare.Learned = &x
	}
	for i, e := range l.estimated {
		out.Calibration = append(
			out.Calibration,
			covered{e.Percent, e.Of, shownUnder(e), shownUnder(l.fitted[i]), wire.Rounded(e.Error, 1)},
		)
	}
	return out
}

func shownUnder(c learning.Covered) under { return under{c.Under, wire.Rounded(c.Share(), 1)} }

func shownProposal(l *learned, p *learning.Proposal) proposal {
	return proposal{
		p.Code,
		p.Name,
		l.status(p.Code, p.Change, p.Evidence.Count),
		p.Why,
		shownFactor(p.Factor),
		standard{spread(p.SetupBefore), spread(p.EachBefore)},
		standard{spread(p.Setup), spread(p.Each)},
		shownEvidence(&p.Evidence),
		wire.Shown(p.Effects, shownEffect),
	}
}

func shownSetting(l *learned, p *learning.Setting) setting {
	return setting{p.Code, p.Key, l.status(p.Code, p.Change, p.Jobs), p.Why, p.Before, p.After, p.Jobs,
		wire.Rounded(p.Learned, 3), wire.Rounded(p.Low, 3), wire.Rounded(p.High, 3), string(p.Figure),
		wire.Shown(p.Effects, shownEffect)}
}

func shownPrice(l *learned, p *learning.Price) price {
	return price{p.Code, p.Item, p.Name, p.Size, p.Supplier, p.ValidFrom, l.status(p.Code, p.Change, p.Evidence.Count),
		p.Why, shownFactor(p.Factor), p.Before, p.After, shownEvidence(&p.Evidence), wire.Shown(p.Effects, shownEffect)}
}

func shownEvidence(e *learning.Step) evidence {
	return evidence{
		e.Count,
		wire.Rounded(e.Mean, 4),
		wire.Rounded(e.Weight, 3),
		wire.Rounded(e.Off, 4),
		wire.Rounded(e.Error, 4),
		wire.Rounded(e.Within, 4),
		e.Wild,
	}
}

func shownEffect(e *basket.Effect) effect {
	if e.Reason != "" {
		return effect{Reference: e.Reference, Reason: &e.Reason}
	}
	before, after := e.Before.Round(2), e.After.Round(2)
	return effect{e.Reference, &before, &after, wire.Maybe(e.Percent), nil}
}

var assumptions = []assumption{
	{
		"/proposals",
		5,
		"at least 5 jobs must tell of a standard, it must be off by two standard errors, and its expected minutes by 3 % (common practice)",
	},
	{
		"/proposals",
		"median",
		"a step that was interrupted or mistyped is given little weight, and each job's own pace is taken off",
	},
	{
		"/settings",
		20,
		"at least 20 jobs must tell of a spread, 5 of the yield, the setting must lie outside of what the jobs say, and the proposal move it by 0.05 of the common share or by 1 % (common practice)",
	},
	{
		"/settings",
		"board feet",
		"the yield is learned from what was used of lumber (offcuts worth keeping taken off) where the grade's yield decided what was to be bought, not the lengths of the boards",
	},
	{
		"/settings",
		10,
		"at least 10 jobs on either side must tell of what wood or maker do, and the proposal move it by 5 points of the wood's hardness or by 0.05 of a factor (common practice); the hardness counts for the minutes beside the setup",
	},
	{
		"/prices",
		"in force",
		"only jobs tell of a price that were estimated by the very price that is in force; what a list says later takes the place of what is approved",
	},
	{
		"/calibration",
		"minutes",
		"minutes of the reported steps are compared, not prices: what wood and parts cost is not in it; " +
			"learned: by the model, on the jobs that it was learned from",
	},
}

// sources are what the reckoning rests on; all but the first are remembered.
var sources = []work{
	{
		"PERT-1959",
		"D. G. Malcolm, J. H. Roseboom, C. E. Clark, W. Fazar, Application of a Technique for Research and Development Program Evaluation, Operations Research 7(5), 1959",
	},
	{
		"Morris-1983",
		"C. N. Morris, Parametric Empirical Bayes Inference: Theory and Applications, Journal of the American Statistical Association 78, 1983 (remembered)",
	},
	{
		"Henderson-1953",
		"C. R. Henderson, Estimation of Variance and Covariance Components, Biometrics 9, 1953 (remembered)",
	},
	{
		"Lange-1989",
		"K. L. Lange, R. J. A. Little, J. M. G. Taylor, Robust Statistical Modeling Using the t Distribution, Journal of the American Statistical Association 84, 1989 (remembered)",
	},
	{
		"Fisher-1960",
		"R. A. Fisher, E. A. Cornish, The Percentile Points of Distributions Having Known Cumulants, Technometrics 2, 1960 (remembered)",
	},
	{
		"Fenton-1960",
		"L. F. Fenton, The Sum of Log-Normal Probability Distributions in Scatter Transmission Systems, IRE Transactions on Communications Systems 8, 1960 (remembered)",
	},
}
