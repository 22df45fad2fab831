package estimates

import (
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/labour"
	"seamwright/service/money"
	"seamwright/service/price"
)

func walkLumber(f *wire.Fields, l *estimate.LumberPlan) {
	f.Open()
	wire.Word(f, "material", &l.Material)
	wire.WordOrNull(f, "unit", &l.Unit)
	wire.NumberOrNull(f, "net_board_feet", &l.NetBoardFeet, 2)
	wire.NumberOrNull(f, "yield_board_feet", &l.YieldBoardFeet, 2)
	wire.NumberOrNull(f, "plan_board_feet", &l.PlanBoardFeet, 2)
	wire.NumberOrNull(f, "buy_board_feet", &l.BuyBoardFeet, 2)
	wire.Int(f, "strips_per_board", &l.StripsPerBoard)
	f.MadeOrNull("board_width", &l.BoardWidth)
	f.MadeOrNull("measured_width", &l.MeasuredWidth)
	f.MadeOrNull("strip_width", &l.StripWidth)
	f.MadeOrNull("kerf", &l.Kerf)
	wire.List(f, "boards", &l.Boards, func(f *wire.Fields, b *estimate.BoardCount) {
		f.Open()
		wire.WordOrNull(f, "material", &b.Material)
		f.Made("length", &b.Length)
		wire.Int(f, "planned", &b.Planned)
		wire.Int(f, "buy", &b.Buy)
		f.Close()
	})
	wire.List(f, "strips", &l.Strips, walkStrip)
	f.Amount("cost", &l.Cost)
	f.Amount("lower_bound", &l.LowerBound)
	f.Bool("optimal", &l.Optimal)
	f.MadeAll("offcuts", &l.Offcuts)
	f.Close()
}

func walkStrip(f *wire.Fields, s *estimate.StripCut) {
	f.Open()
	f.Made("length", &s.Length)
	wire.Int(f, "count", &s.Count)
	wire.List(f, "pieces", &s.Pieces, func(f *wire.Fields, p *estimate.StripPiece) {
		f.Open()
		wire.Word(f, "run", &p.Run)
		f.Made("length", &p.Length)
		f.Close()
	})
	f.Made("leftover", &s.Leftover)
	f.Close()
}

func walkBillLine(f *wire.Fields, b *estimate.BillLine) {
	f.Open()
	wire.Int(f, "line", &b.Line)
	wire.Word(f, "item", &b.Item)
	wire.Word(f, "kind", &b.Kind)
	wire.Word(f, "description", &b.Description)
	f.Quantity("need", &b.Need)
	f.Quantity("buy", &b.Buy)
	wire.Word(f, "unit", &b.Unit)
	if f.OpenOrNull("pack", !b.PackSize.IsZero()) {
		f.Quantity("size", &b.PackSize)
		wire.Int(f, "count", &b.Packs)
		f.Close()
	}
	f.UnitPrice("unit_price", &b.UnitPrice)
	f.Amount("amount", &b.Amount)
	if f.OpenAt("price") {
		wire.Word(f, "supplier", &b.Supplier)
		wire.Word(f, "valid_from", &b.ValidFrom)
		wire.Word(f, "confirmed_on", &b.ConfirmedOn)
		f.Bool("stale", &b.Stale)
		f.Close()
	}
	f.Close()
}

func walkLabour(f *wire.Fields, l *labour.Plan) {
	if !f.OpenAt("labour") {
		return
	}
	wire.List(f, "steps", &l.Steps, walkStep)
	wire.Number(f, "hours", &l.Hours, 2)
	wire.Number(f, "critical_path_hours", &l.CriticalPathHours, 2)
	if w := f.Writer(); w != nil {
		WriteDays(w, l.WorkingDays, l.NoPromise == "")
	} else {
		wire.Int(f, "working_days", &l.WorkingDays)
	}
	wire.WordOrNull(f, "no_promise", &l.NoPromise)
	wire.IntOrNull(f, "cured_day", &l.CuredDay)
	f.Amount("cost", &l.Cost)
	deviation := money.RoundAmount(l.CostDeviation)
	if f.Amount("cost_deviation", &deviation); f.Reads() {
		l.CostDeviation = deviation.Float()
	}
	f.Close()
}

func walkStep(f *wire.Fields, s *labour.Step) {
	f.Open()
	wire.Int(f, "number", &s.Number)
	wire.Word(f, "code", &s.Code)
	wire.Word(f, "name", &s.Name)
	wire.Word(f, "when", &s.When)
	wire.Word(f, "role", &s.Role)
	wire.Int(f, "crew", &s.Crew)
	if f.OpenAt("minutes") {
		wire.Number(f, "low", &s.Minutes.Low, 1)
		wire.Number(f, "likely", &s.Minutes.Likely, 1)
		wire.Number(f, "high", &s.Minutes.High, 1)
		wire.Number(f, "expected", &s.Minutes.Expected, 1)
		f.Close()
	}
	wire.Number(f, "wait_hours", &s.WaitHours, 2)
	f.Ints("after", &s.After)
	f.Bool("critical", &s.Critical)
	wire.Int(f, "day", &s.Day)
	f.Hourly("rate", &s.Rate)
	f.Amount("amount", &s.Amount)
	if f.Reads() && !f.Has("gives") {
		s.Gives = givenBy[s.Code]
	}
	wire.WordOrNull(f, "gives", &s.Gives)
	wire.Word(f, "note", &s.Note)
	f.Close()
}

// givenBy is what the steps of the demo catalogue give, for answers that were kept before steps said it themselves.
var givenBy = map[string]catalogue.Service{"site_visit": catalogue.Measuring, "deliver": catalogue.Delivering,
	"join_on_site":         catalogue.Joining,
	"install_base_fixings": catalogue.Fitting}

func walkPrice(f *wire.Fields, p *price.Price) {
	if !f.OpenAt("price") {
		return
	}
	f.Amount("materials", &p.Materials)
	f.Amount("hardware", &p.Hardware)
	f.Amount("consumables", &p.Consumables)
	f.Amount("labour", &p.Labour)
	f.Amount("overhead", &p.Overhead)
	f.Amount("contingency", &p.Contingency)
	f.Amount("cost", &p.Cost)
	f.Amount("margin", &p.Margin)
	f.Amount("net", &p.Net)
	f.Amount("tax", &p.Tax)
	f.Amount("total", &p.Total)
	f.Amount("deposit", &p.Deposit)
	if f.OpenAt("range") {
		f.Amount("p50", &p.Range.P50)
		f.Amount("p80", &p.Range.P80)
		f.Amount("p90", &p.Range.P90)
		f.Close()
	}
	wire.Word(f, "basis", &p.Basis)
	f.Rate("rate", &p.Rate)
	f.Rate("tax_rate", &p.TaxRate)
	walkRegion(f, p)
	walkAdjustments(f, p)
	f.Close()
}

// walkRegion walks where it is taxed, which is left out where the order does not say.
func walkRegion(f *wire.Fields, p *price.Price) {
	if !f.OpenIf("tax_region", p.Region != nil) {
		return
	}
	if p.Region == nil {
		p.Region = new(price.Region)
	}
	wire.Word(f, "code", &p.Region.Code)
	wire.Word(f, "name", &p.Region.Name)
	f.Close()
}

// walkAdjustments walks discounts and extra lines, which are left out where there are none.
func walkAdjustments(f *wire.Fields, p *price.Price) {
	if !f.OpenIf("adjustments", p.Adjusted != nil) {
		return
	}
	if p.Adjusted == nil {
		p.Adjusted = new(price.Adjustments)
	}
	a := p.Adjusted
	f.Amount("top", &a.Top)
	wire.List(f, "discounts", &a.Discounts, func(f *wire.Fields, d *price.Taken) {
		f.Open()
		wire.Word(f, "reason", &d.Reason)
		f.Rate("percent", &d.Percent)
		f.Amount("amount", &d.Amount)
		f.Close()
	})
	f.Amount("discount", &a.Discount)
	f.Amount("top_tax", &a.TopTax)
	wire.List(f, "lines", &a.Lines, func(f *wire.Fields, l *price.Sold) {
		f.Open()
		wire.Word(f, "text", &l.Text)
		f.Amount("cost", &l.Cost)
		f.Amount("net", &l.Net)
		f.Rate("tax_rate", &l.TaxRate)
		f.Amount("tax", &l.Tax)
		f.Amount("total", &l.Total)
		f.Close()
	})
	f.Amount("lines_net", &a.LinesNet)
	f.Amount("lines_cost", &a.LinesCost)
	f.Amount("rounding", &a.Rounding)
	f.Close()
}
