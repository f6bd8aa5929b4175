package host_test

import (
	"context"
	"fmt"
	"iter"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/plugins/region/kit"
)

func Example() {
	ctx := context.Background()
	client := host.Start(ctx, host.Options{Shipped: "oakshire"})
	defer client.Close()

	section, _ := model.ParseSection("50x200", model.Metric)
	site := &region.Site{Code: "XA-OAK", Sections: []region.Section{*section}, Grades: []region.GradeName{{Name: "H20"}}}
	preparation, err := client.Prepare(ctx, site)
	if err != nil {
		fmt.Println(err)
		return
	}
	joist := kit.Batch(site, preparation, []kit.Beam{{Span: 3000, Load: 0.4, Multiplicity: 1}}, nil)
	var batches iter.Seq[*region.Batch] = func(yield func(*region.Batch) bool) { yield(joist) }

	description, _ := client.Describe(ctx)
	err = client.Derive(ctx, site, preparation, batches, func(b *region.Batch, d *region.Derived) error {
		for j, fact := range description.Facts[:3] {
			fmt.Printf("%s %.2f under %s\n", fact.Name, d.Value[j], preparation.Combinations[d.Combination[j]].ID)
		}
		return nil
	})
	if err != nil {
		fmt.Println(err)
	}
	// By hand: q = 1.3*0.4 + 1.5*0.8 = 1.72 N/mm, M = 1.72*3000^2/8 = 1.935e6, W = 50*200^2/6 = 333333, M/W/20 = 0.29;
	// V = 2580 N, 1.5*2580/10000/3 = 0.13; 2580/(50*50)/2.4 = 0.43.

	// Output:
	// oak.bending 0.29 under 1.3 dead + 1.5 imposed
	// oak.shear 0.13 under 1.3 dead + 1.5 imposed
	// oak.bearing 0.43 under 1.3 dead + 1.5 imposed
}
