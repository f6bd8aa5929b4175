package serve_test

import (
	"bufio"
	"crypto/tls"
	"crypto/x509"
	"encoding/base64"
	"encoding/pem"
	"fmt"
	"net"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	contract "example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/serve"
	"example.com/scantling/plugins/region/wire"
	"example.com/scantling/testdata/regions/oakshire"
)

// TestMain makes the test binary a region when it is started as one.
func TestMain(m *testing.M) {
	if os.Getenv(wire.Handshake.MagicCookieKey) != "" {
		serve.Region(oakshire.New())
	}
	os.Exit(m.Run())
}

// TestNobodyButTheProgramIsLetIn talks to a region with the certificate that it was told of, with another and with none.
func TestNobodyButTheProgramIsLetIn(t *testing.T) {
	mine, err := wire.Certificate()
	require.NoError(t, err)
	other, err := wire.Certificate()
	require.NoError(t, err)

	c := exec.Command(os.Args[0])
	c.Dir = t.TempDir()
	c.Env = []string{wire.Handshake.MagicCookieKey + "=" + wire.Handshake.MagicCookieValue, fmt.Sprintf("PLUGIN_PROTOCOL_VERSIONS=%d", contract.ContractVersion), "PLUGIN_UNIX_SOCKET_DIR=" + c.Dir,
		wire.CertificateVariable + "=" + string(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: mine.Certificate[0]}))}
	held, err := c.StdinPipe() // its end ends the region
	require.NoError(t, err)
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	t.Cleanup(func() {
		_ = held.Close()
		_ = c.Wait()
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err)
	fields := strings.Split(strings.TrimSpace(line), "|")
	require.Len(t, fields, 6, line)
	der, err := base64.RawStdEncoding.DecodeString(fields[5])
	require.NoError(t, err)
	region, err := x509.ParseCertificate(der)
	require.NoError(t, err)
	authority := x509.NewCertPool()
	authority.AddCert(region)

	// talk sends what opens an HTTP/2 connection and reads the first byte of the answer.
	talk := func(show ...tls.Certificate) error {
		raw, err := net.Dial(fields[2], fields[3])
		require.NoError(t, err)
		conn := tls.Client(raw, &tls.Config{Certificates: show, RootCAs: authority, ServerName: "localhost", NextProtos: []string{"h2"}, MinVersion: tls.VersionTLS12})
		defer func() { _ = conn.Close() }()
		_ = conn.SetDeadline(time.Now().Add(10 * time.Second))
		if _, err := conn.Write([]byte("PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n\x00\x00\x00\x04\x00\x00\x00\x00\x00")); err != nil {
			return err
		}
		_, err = conn.Read(make([]byte, 1))
		return err
	}
	assert.NoError(t, talk(mine))
	assert.Error(t, talk(other))
	assert.Error(t, talk())
	assert.NoError(t, talk(mine), "and it still serves")
}
