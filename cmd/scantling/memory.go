package main

import (
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

// A check of one house, and the region that serves it, live for a tenth of a second: collecting their garbage as a
// program of long life does would be a quarter of the work. Until so much is alive, garbage may grow to four times that.
const (
	youngPercent = 400
	youngLive    = 32 << 20 // bytes
)

// collectLate puts off the collection of garbage while little is alive.
func collectLate() {
	debug.SetGCPercent(youngPercent)
	afterCollection(func() (again bool) {
		live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
		metrics.Read(live)
		if live[0].Value.Kind() == metrics.KindUint64 && live[0].Value.Uint64() < youngLive {
			return true
		}
		debug.SetGCPercent(100)
		return false
	})
}

// afterCollection calls look after each collection until it says that it has seen enough.
func afterCollection(look func() (again bool)) {
	runtime.SetFinalizer(new([16]byte), func(*[16]byte) {
		if look() {
			afterCollection(look)
		}
	})
}
