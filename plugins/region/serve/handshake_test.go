package serve

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestTheCertificateStandsInTheLineThatSaysWhereToConnect(t *testing.T) {
	for name, row := range map[string][2]string{
		"the last of six fields":          {"1|1|unix|/tmp/a/b|grpc|\n", "1|1|unix|/tmp/a/b|grpc|AQID\n"},
		"a field before others":           {"1|1|unix|/tmp/a/b|grpc||true\n", "1|1|unix|/tmp/a/b|grpc|AQID|true\n"},
		"one that is there already stays": {"1|1|unix|/tmp/a/b|grpc|BBBB\n", "1|1|unix|/tmp/a/b|grpc|BBBB\n"},
		"another protocol":                {"1|1|unix|/tmp/a/b|netrpc|\n", "1|1|unix|/tmp/a/b|netrpc|\n"},
		"what an author printed":          {"hello | there\n", "hello | there\n"},
		"nothing":                         {"", ""},
	} {
		t.Run(name, func(t *testing.T) { assert.Equal(t, row[1], withCertificate(row[0], []byte{1, 2, 3})) })
	}
}
