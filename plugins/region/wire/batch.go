package wire

import (
	"errors"
	"fmt"

	"example.com/scantling/plugins/region"
)

// maxRows bounds what an empty column may stand for: rows for each combination or case.
const maxRows = 1 << 21

// PackBatch is the message of a batch that has been checked. It shares the batch's columns.
func PackBatch(b *region.Batch) *Batch {
	p, c, s, n, h := &b.Pieces, &b.Contacts, &b.Stations, &b.Notches, &b.Holes
	like := newSieve(p.Alike, len(p.ID), int(b.Combinations))
	return &Batch{
		Sequence: b.Sequence, Working: b.Working,
		Pieces: &Pieces{
			Id: p.ID, Multiplicity: p.Multiplicity, Words: p.Words,
			Role: p.Role, Section: p.Section, Grade: p.Grade, Service: packed(p.Service),
			Length: packed(p.Length), Slope: packed(p.Slope), Centres: packed(p.Centres),
			Cranked: packed(p.Cranked), Column: packed(p.Column), Repetitive: packed(p.Repetitive),
			TopFull: packed(p.TopFull), TopSpacing: packed(p.TopSpacing), BottomFull: packed(p.BottomFull), BottomSpace: packed(p.BottomSpace),
			HeldDepth: packed(p.HeldDepth), HeldWidth: packed(p.HeldWidth), LoadAt: packed(p.LoadAt), PliesJoined: packed(p.PliesJoined),
			Brittle: packed(p.Brittle), Carries: packed(p.Carries), Deck: packed(p.Deck), BlockingRows: packed(p.BlockingRows),
			Treated: packed(p.Treated), Condition: packed(p.Condition), Movable: packed(p.Movable), Alike: packed(p.Alike),
			ContactStart: packed(p.ContactStart), StationStart: packed(p.StationStart), SpanStart: packed(p.SpanStart),
			NotchStart: packed(p.NotchStart), HoleStart: packed(p.HoleStart),
		},
		Contacts: &Contacts{
			At: c.At, Landing: packed(c.Landing), Support: packed(c.Support),
			Length: packed(c.Length), Width: packed(c.Width), Underside: packed(c.Underside), By: packed(c.By),
			SeatKind: packed(c.SeatKind), SeatAlong: packed(c.SeatAlong), SeatAcross: packed(c.SeatAcross), SeatHigh: packed(c.SeatHigh), SeatStress: packed(c.SeatStress),
			WallWidth: packed(c.WallWidth), WallHeight: packed(c.WallHeight), WallUnit: packed(c.WallUnit), WallGroup: packed(c.WallGroup),
			WallUnitF: packed(c.WallUnitF), WallMortar: packed(c.WallMortar), WallClass: packed(c.WallClass),
			ToWallEnd: packed(c.ToWallEnd), ToEnd: packed(c.ToEnd), ToNext: packed(c.ToNext), Eccentric: packed(c.Eccentric),
			NotchDepth: packed(c.NotchDepth), NotchFace: packed(c.NotchFace), NotchSlope: packed(c.NotchSlope), NotchX: packed(c.NotchX),
			WallWeight: packed(c.WallWeight), WallLeaf: packed(c.WallLeaf), AlongWall: packed(c.AlongWall), ToWallFar: packed(c.ToWallFar),
			CaseBeside: packed(c.CaseBeside), CaseTurn: packed(c.CaseTurn), BesideUnknown: packed(c.BesideUnknown),
			Down: like.sift(c.Down, p.ContactStart), Up: like.sift(c.Up, p.ContactStart), Along: like.sift(c.Along, p.ContactStart),
		},
		Stations: &Stations{
			At: s.At, Span: packed(s.Span), Kind: packed(s.Kind),
			N: like.sift(s.N, p.StationStart), V: like.sift(s.V, p.StationStart), M: like.sift(s.M, p.StationStart),
			MomentOut: like.sift(s.MomentOut, p.StationStart),
		},
		Spans: &Spans{
			From: b.Spans.From, To: packed(b.Spans.To), Overhang: packed(b.Spans.Overhang),
			Deflection: like.sift(b.Spans.Deflection, p.SpanStart), CaseDeflect: packed(b.Spans.CaseDeflect), CaseMoment: packed(b.Spans.CaseMoment),
			MoveDeflect: packed(b.Spans.MoveDeflect), MoveMoment: packed(b.Spans.MoveMoment),
		},
		Notches: &Notches{At: n.At, Depth: packed(n.Depth), Length: packed(n.Length), Bottom: packed(n.Bottom)},
		Holes:   &Holes{At: h.At, Diameter: packed(h.Diameter), FromTop: packed(h.FromTop)},
	}
}

// UnpackBatch is the batch of a message, checked. It shares the message's columns.
func UnpackBatch(m *Batch, site *region.Site, preparation *region.Preparation) (*region.Batch, error) {
	if m == nil || site == nil || preparation == nil {
		return nil, errors.New("a batch came without its start")
	}
	mp, mc, ms, mn, mh := m.GetPieces(), m.GetContacts(), m.GetStations(), m.GetNotches(), m.GetHoles()
	msp := m.GetSpans()
	combinations, cases := len(preparation.Combinations), len(preparation.Cases)
	pieces, contacts, stations := len(mp.GetId()), len(mc.GetAt()), len(ms.GetAt())
	spans, notches, holes := len(msp.GetFrom()), len(mn.GetAt()), len(mh.GetAt())
	for _, rows := range []int{pieces, contacts, stations, spans, notches, holes} {
		if rows*max(1, combinations, cases) > maxRows {
			return nil, fmt.Errorf("a batch has %d rows for each of %d combinations and %d cases", rows, combinations, cases)
		}
	}
	b := &region.Batch{
		Sequence: m.GetSequence(), Working: m.GetWorking(), Combinations: int32(combinations), Cases: int32(cases), Site: site, Preparation: preparation,
		Pieces: region.Pieces{
			ID: mp.GetId(), Multiplicity: mp.GetMultiplicity(), Words: mp.GetWords(),
			Role: mp.GetRole(), Section: mp.GetSection(), Grade: mp.GetGrade(), Service: unpacked(mp.GetService(), pieces),
			Length: unpacked(mp.GetLength(), pieces), Slope: unpacked(mp.GetSlope(), pieces), Centres: unpacked(mp.GetCentres(), pieces),
			Cranked: unpacked(mp.GetCranked(), pieces), Column: unpacked(mp.GetColumn(), pieces), Repetitive: unpacked(mp.GetRepetitive(), pieces),
			TopFull: unpacked(mp.GetTopFull(), pieces), TopSpacing: unpacked(mp.GetTopSpacing(), pieces),
			BottomFull: unpacked(mp.GetBottomFull(), pieces), BottomSpace: unpacked(mp.GetBottomSpace(), pieces),
			HeldDepth: unpacked(mp.GetHeldDepth(), pieces), HeldWidth: unpacked(mp.GetHeldWidth(), pieces),
			LoadAt: unpacked(mp.GetLoadAt(), pieces), PliesJoined: unpacked(mp.GetPliesJoined(), pieces),
			Brittle: unpacked(mp.GetBrittle(), pieces), Carries: unpacked(mp.GetCarries(), pieces), Deck: unpacked(mp.GetDeck(), pieces),
			BlockingRows: unpacked(mp.GetBlockingRows(), pieces), Treated: unpacked(mp.GetTreated(), pieces), Condition: unpacked(mp.GetCondition(), pieces),
			Movable: unpacked(mp.GetMovable(), pieces), Alike: unpacked(mp.GetAlike(), pieces*combinations),
			ContactStart: unpacked(mp.GetContactStart(), pieces+1), StationStart: unpacked(mp.GetStationStart(), pieces+1), SpanStart: unpacked(mp.GetSpanStart(), pieces+1),
			NotchStart: unpacked(mp.GetNotchStart(), pieces+1), HoleStart: unpacked(mp.GetHoleStart(), pieces+1),
		},
		Contacts: region.Contacts{
			At: mc.GetAt(), Landing: unpacked(mc.GetLanding(), contacts), Support: unpacked(mc.GetSupport(), contacts),
			Length: unpacked(mc.GetLength(), contacts), Width: unpacked(mc.GetWidth(), contacts),
			Underside: unpacked(mc.GetUnderside(), contacts), By: unpacked(mc.GetBy(), contacts),
			SeatKind: unpacked(mc.GetSeatKind(), contacts), SeatAlong: unpacked(mc.GetSeatAlong(), contacts), SeatAcross: unpacked(mc.GetSeatAcross(), contacts),
			SeatHigh: unpacked(mc.GetSeatHigh(), contacts), SeatStress: unpacked(mc.GetSeatStress(), contacts),
			WallWidth: unpacked(mc.GetWallWidth(), contacts), WallHeight: unpacked(mc.GetWallHeight(), contacts), WallUnit: unpacked(mc.GetWallUnit(), contacts),
			WallGroup: unpacked(mc.GetWallGroup(), contacts), WallUnitF: unpacked(mc.GetWallUnitF(), contacts), WallMortar: unpacked(mc.GetWallMortar(), contacts),
			WallClass: unpacked(mc.GetWallClass(), contacts), ToWallEnd: unpacked(mc.GetToWallEnd(), contacts), ToEnd: unpacked(mc.GetToEnd(), contacts),
			ToNext: unpacked(mc.GetToNext(), contacts), Eccentric: unpacked(mc.GetEccentric(), contacts),
			NotchDepth: unpacked(mc.GetNotchDepth(), contacts), NotchFace: unpacked(mc.GetNotchFace(), contacts),
			NotchSlope: unpacked(mc.GetNotchSlope(), contacts), NotchX: unpacked(mc.GetNotchX(), contacts),
			WallWeight: unpacked(mc.GetWallWeight(), contacts), WallLeaf: unpacked(mc.GetWallLeaf(), contacts), AlongWall: unpacked(mc.GetAlongWall(), contacts),
			ToWallFar: unpacked(mc.GetToWallFar(), contacts), CaseBeside: unpacked(mc.GetCaseBeside(), contacts*cases), CaseTurn: unpacked(mc.GetCaseTurn(), contacts*cases), BesideUnknown: unpacked(mc.GetBesideUnknown(), contacts),
		},
		Stations: region.Stations{
			At: ms.GetAt(), Span: unpacked(ms.GetSpan(), stations), Kind: unpacked(ms.GetKind(), stations),
		},
		Spans: region.Spans{
			From: msp.GetFrom(), To: unpacked(msp.GetTo(), spans), Overhang: unpacked(msp.GetOverhang(), spans),
			CaseDeflect: unpacked(msp.GetCaseDeflect(), spans*cases), CaseMoment: unpacked(msp.GetCaseMoment(), spans*cases),
			MoveDeflect: unpacked(msp.GetMoveDeflect(), spans), MoveMoment: unpacked(msp.GetMoveMoment(), spans),
		},
		Notches: region.Notches{
			At: mn.GetAt(), Depth: unpacked(mn.GetDepth(), notches), Length: unpacked(mn.GetLength(), notches), Bottom: unpacked(mn.GetBottom(), notches),
		},
		Holes: region.Holes{At: mh.GetAt(), Diameter: unpacked(mh.GetDiameter(), holes), FromTop: unpacked(mh.GetFromTop(), holes)},
	}
	if err := b.CheckRows(); err != nil {
		return nil, fmt.Errorf("a batch is not well formed: %w", err)
	}
	if err := restore(b, m); err != nil {
		return nil, fmt.Errorf("a batch is not well formed: %w", err)
	}
	if err := b.CheckNumbers(); err != nil {
		return nil, fmt.Errorf("a batch is not well formed: %w", err)
	}
	return b, nil
}

// restore fills the columns with an entry for each combination.
func restore(b *region.Batch, m *Batch) error {
	p, c, s, mc, ms := &b.Pieces, &b.Contacts, &b.Stations, m.GetContacts(), m.GetStations()
	like := newSieve(p.Alike, len(p.ID), int(b.Combinations))
	for _, column := range []struct {
		name   string
		whole  *[]float64
		sifted []float64
		starts []int32
	}{
		{"Contacts.Down", &c.Down, mc.GetDown(), p.ContactStart},
		{"Contacts.Up", &c.Up, mc.GetUp(), p.ContactStart},
		{"Contacts.Along", &c.Along, mc.GetAlong(), p.ContactStart},
		{"Stations.N", &s.N, ms.GetN(), p.StationStart},
		{"Stations.V", &s.V, ms.GetV(), p.StationStart},
		{"Stations.M", &s.M, ms.GetM(), p.StationStart},
		{"Stations.MomentOut", &s.MomentOut, ms.GetMomentOut(), p.StationStart},
		{"Spans.Deflection", &b.Spans.Deflection, m.GetSpans().GetDeflection(), p.SpanStart},
	} {
		var err error
		if *column.whole, err = like.restore(column.sifted, column.starts); err != nil {
			return fmt.Errorf("%s has %w", column.name, err)
		}
	}
	return nil
}

// PackDerived is the message of an answer. It shares the answer's columns.
func PackDerived(d *region.Derived) *Derived {
	return &Derived{
		Sequence: d.Sequence, Id: d.ID, Value: d.Value, Reason: d.Reason, Reasons: d.Reasons,
		Combination: d.Combination, Contact: d.Contact, At: d.At, Working: packSteps(d.Working),
	}
}

// UnpackDerived is the answer of a message. It shares the message's columns and is not checked.
func UnpackDerived(m *Derived) *region.Derived {
	return &region.Derived{
		Sequence: m.GetSequence(), ID: m.GetId(), Value: m.GetValue(), Reason: m.GetReason(), Reasons: m.GetReasons(),
		Combination: m.GetCombination(), Contact: m.GetContact(), At: m.GetAt(), Working: unpackSteps(m.GetWorking()),
	}
}

// packed leaves out a column that is all zero.
func packed[T comparable](column []T) []T {
	var zero T
	for _, x := range column {
		if x != zero {
			return column
		}
	}
	return nil
}

// unpacked restores a column of that many entries that was left out.
func unpacked[T any](column []T, entries int) []T {
	if len(column) == 0 {
		return make([]T, entries)
	}
	return column
}
