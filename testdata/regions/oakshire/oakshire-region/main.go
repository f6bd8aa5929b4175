// Oakshire-region serves the made-up region of Oakshire.
package main

import (
	"example.com/scantling/plugins/region/serve"
	"example.com/scantling/testdata/regions/oakshire"
)

func main() { serve.Region(oakshire.New()) }
