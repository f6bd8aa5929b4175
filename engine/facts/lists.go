package facts

import (
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// Lists are the names that a run and its region share: indices of a batch refer to them.
type Lists struct {
	Sections  []*model.Section
	Grades    []region.GradeName
	sectionOf map[*model.Section]int32
	gradeOf   map[string]int32
}

// NewLists collects the sections and grades that a document uses, in its order.
func NewLists(doc *model.Document) *Lists {
	l := &Lists{sectionOf: map[*model.Section]int32{}, gradeOf: map[string]int32{}}
	grade := func(name string, steel bool) {
		if name == "" {
			return
		}
		i, ok := l.gradeOf[name]
		if !ok {
			i = int32(len(l.Grades))
			l.gradeOf[name] = i
			g := region.GradeName{Name: name}
			for k := range doc.Grades {
				if doc.Grades[k].Name == name {
					g.Declared = &doc.Grades[k]
				}
			}
			l.Grades = append(l.Grades, g)
		}
		l.Grades[i].Steel = l.Grades[i].Steel || steel
	}
	for i := range doc.Members {
		m := &doc.Members[i]
		if s := m.Section; s != nil {
			if _, ok := l.sectionOf[s]; !ok {
				l.sectionOf[s] = int32(len(l.Sections))
				l.Sections = append(l.Sections, s)
			}
			for _, layer := range s.Layers {
				grade(layer.Grade, false)
			}
		}
		grade(m.Grade, m.Section != nil && m.Section.SteelByDefault)
	}
	return l
}

// Grade is the index of a grade's name, or -1.
func (l *Lists) Grade(name string) int32 { return indexIn(l.gradeOf, name) }

func indexIn[K comparable](m map[K]int32, k K) int32 {
	if i, ok := m[k]; ok {
		return i
	}
	return -1
}
