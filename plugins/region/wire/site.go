package wire

import (
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// PackSite is the message of a site.
func PackSite(s *region.Site) *Site {
	m := &Site{
		Code: s.Code, GroundSnow: packQuantity(s.GroundSnow), Altitude: packQuantity(s.Altitude), SnowZone: int32(s.SnowZone),
		ServiceClass: int32(s.ServiceClass), MasonryClass: int32(s.MasonryClass), Weightless: s.Weightless, Roles: s.Roles, Movable: s.Movable,
	}
	for i := range s.Grades {
		m.Grades = append(m.Grades, packGradeName(&s.Grades[i]))
	}
	for i := range s.Sections {
		m.Sections = append(m.Sections, packSection(&s.Sections[i]))
	}
	for i := range s.Areas {
		m.Areas = append(m.Areas, packArea(&s.Areas[i]))
	}
	return m
}

// UnpackSite is the site of a message.
func UnpackSite(m *Site) *region.Site {
	s := &region.Site{
		Code: m.GetCode(), GroundSnow: unpackQuantity(m.GetGroundSnow()), Altitude: unpackQuantity(m.GetAltitude()), SnowZone: int(m.GetSnowZone()),
		ServiceClass: int(m.GetServiceClass()), MasonryClass: int(m.GetMasonryClass()), Weightless: m.GetWeightless(), Roles: m.GetRoles(), Movable: m.GetMovable(),
	}
	for _, g := range m.GetGrades() {
		s.Grades = append(s.Grades, unpackGradeName(g))
	}
	for _, x := range m.GetSections() {
		s.Sections = append(s.Sections, unpackSection(x))
	}
	for _, a := range m.GetAreas() {
		s.Areas = append(s.Areas, unpackArea(a))
	}
	return s
}

func packQuantity(q model.Quantity) *Quantity {
	if !q.Known {
		return nil
	}
	return &Quantity{Value: q.Value}
}

func unpackQuantity(m *Quantity) model.Quantity {
	return model.Quantity{Value: m.GetValue(), Known: m != nil}
}

func packGradeName(g *region.GradeName) *GradeName {
	m := &GradeName{Name: g.Name, Steel: g.Steel}
	if d := g.Declared; d != nil {
		m.Declared = &DeclaredGrade{Name: d.Name, Material: d.Material, E: packQuantity(d.E), G: packQuantity(d.G), Density: packQuantity(d.Density), By: d.By}
		for _, n := range d.Region {
			m.Declared.Region = append(m.Declared.Region, &Named{Name: n.Name, Value: n.Value})
		}
	}
	return m
}

func unpackGradeName(m *GradeName) region.GradeName {
	g := region.GradeName{Name: m.GetName(), Steel: m.GetSteel()}
	if d := m.GetDeclared(); d != nil {
		g.Declared = &model.Grade{Name: d.GetName(), Material: d.GetMaterial(), E: unpackQuantity(d.GetE()), G: unpackQuantity(d.GetG()), Density: unpackQuantity(d.GetDensity()), By: d.GetBy()}
		for _, n := range d.GetRegion() {
			g.Declared.Region = append(g.Declared.Region, model.Named{Name: n.GetName(), Value: n.GetValue()})
		}
	}
	return g
}

func packSection(s *region.Section) *Section {
	m := &Section{
		Text: s.Text, Shape: Shape(s.Shape), Width: s.Width, Depth: s.Depth, Plies: int32(s.Plies), Wall: s.Wall, Web: s.Web, Flange: s.Flange, Root: s.Root,
		Flat: s.Flat, Finish: s.Finish, Area: s.Area, Iy: s.Iy, Iz: s.Iz, Wy: s.Wy, Wz: s.Wz, Wply: s.Wply, Wplz: s.Wplz, It: s.It, Iw: s.Iw, Mass: s.Mass,
		Bolts: s.Bolts, Nominal: s.Nominal, UnequalPlies: s.UnequalPlies, SteelByDefault: s.SteelByDefault,
	}
	for _, l := range s.Layers {
		m.Layers = append(m.Layers, &Layer{Width: l.Width, Depth: l.Depth, Grade: l.Grade})
	}
	return m
}

func unpackSection(m *Section) region.Section {
	s := region.Section{
		Text: m.GetText(), Shape: model.Shape(m.GetShape()), Width: m.GetWidth(), Depth: m.GetDepth(), Plies: int(m.GetPlies()), Wall: m.GetWall(), Web: m.GetWeb(), Flange: m.GetFlange(), Root: m.GetRoot(),
		Flat: m.GetFlat(), Finish: m.GetFinish(), Area: m.GetArea(), Iy: m.GetIy(), Iz: m.GetIz(), Wy: m.GetWy(), Wz: m.GetWz(), Wply: m.GetWply(), Wplz: m.GetWplz(), It: m.GetIt(), Iw: m.GetIw(), Mass: m.GetMass(),
		Bolts: m.GetBolts(), Nominal: m.GetNominal(), UnequalPlies: m.GetUnequalPlies(), SteelByDefault: m.GetSteelByDefault(),
	}
	for _, l := range m.GetLayers() {
		s.Layers = append(s.Layers, model.Layer{Width: l.GetWidth(), Depth: l.GetDepth(), Grade: l.GetGrade()})
	}
	return s
}

func packArea(a *region.Area) *Area {
	m := &Area{
		Id: a.ID, Kind: a.Kind, Category: a.Category, Covering: a.Covering, Finish: a.Finish, Pitch: packQuantity(a.Pitch),
		DeadOn: a.DeadOn, SelfWeight: a.SelfWeight, Deck: packQuantity(a.Deck), PointLoad: packQuantity(a.PointLoad), Slope: a.Slope,
	}
	for _, l := range a.Loads {
		m.Loads = append(m.Loads, &ActionLoad{Action: string(l.Action), Name: l.Name, Value: l.Value})
	}
	for _, p := range a.Extent {
		m.Extent = append(m.Extent, &Point{X: p.X, Y: p.Y, Z: p.Z})
	}
	return m
}

func unpackArea(m *Area) region.Area {
	a := region.Area{Slope: m.GetSlope(), Area: model.Area{
		ID: m.GetId(), Kind: m.GetKind(), Category: m.GetCategory(), Covering: m.GetCovering(), Finish: m.GetFinish(), Pitch: unpackQuantity(m.GetPitch()),
		DeadOn: m.GetDeadOn(), SelfWeight: m.GetSelfWeight(), Deck: unpackQuantity(m.GetDeck()), PointLoad: unpackQuantity(m.GetPointLoad()),
	}}
	for _, l := range m.GetLoads() {
		a.Loads = append(a.Loads, model.AreaLoad{Action: model.Action(l.GetAction()), Name: l.GetName(), Value: l.GetValue()})
	}
	for _, p := range m.GetExtent() {
		a.Extent = append(a.Extent, model.Point{X: p.GetX(), Y: p.GetY(), Z: p.GetZ()})
	}
	return a
}
