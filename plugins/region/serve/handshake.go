package serve

import (
	"bufio"
	"crypto/tls"
	"crypto/x509"
	"encoding/base64"
	"errors"
	"io"
	"os"
	"strings"

	"example.com/scantling/plugins/region/wire"
)

// mutualTLS is this side of go-plugin's automatic mutual TLS, with a certificate that is quicker to make than go-plugin's
// own; nil where the program asks for none. go-plugin tells the program its own certificates only: this one is put into
// the line that it prints.
func mutualTLS() (func() (*tls.Config, error), error) {
	asked := os.Getenv(wire.CertificateVariable)
	if asked == "" {
		return nil, nil
	}
	program := x509.NewCertPool()
	if !program.AppendCertsFromPEM([]byte(asked)) {
		return nil, errors.New("the program's certificate cannot be read")
	}
	certificate, err := wire.Certificate()
	if err != nil {
		return nil, err
	}
	if err := announce(certificate.Certificate[0]); err != nil {
		return nil, err
	}
	config := &tls.Config{Certificates: []tls.Certificate{certificate}, ClientAuth: tls.RequireAndVerifyClientCert, ClientCAs: program, MinVersion: tls.VersionTLS12}
	return func() (*tls.Config, error) { return config, nil }, nil
}

// announce has what go-plugin prints pass by, and the certificate put into its first line. go-plugin takes the standard
// output for its own afterwards.
func announce(certificate []byte) error {
	out := os.Stdout
	passing, in, err := os.Pipe()
	if err != nil {
		return err
	}
	os.Stdout = in
	go func() {
		lines := bufio.NewReader(passing)
		line, _ := lines.ReadString('\n')
		_, _ = io.WriteString(out, withCertificate(line, certificate))
		_, _ = io.Copy(out, lines)
	}()
	return nil
}

// withCertificate fills the empty field for it in go-plugin's line; any other line stays as it is.
func withCertificate(line string, certificate []byte) string {
	const protocol, own = 4, 5
	fields := strings.Split(strings.TrimSuffix(line, "\n"), "|")
	if len(fields) <= own || fields[protocol] != "grpc" || fields[own] != "" {
		return line
	}
	fields[own] = base64.RawStdEncoding.EncodeToString(certificate)
	return strings.Join(fields, "|") + "\n"
}
