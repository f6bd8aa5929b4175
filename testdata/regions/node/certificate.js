'use strict';

// A certificate of one's own for one connection. Node can sign but not write certificates, and one that says no more
// than its key and its name is little work in DER (ITU-T X.690; the fields are those of RFC 5280, section 4.1).

const crypto = require('node:crypto');

const der = (tag, ...parts) => {
  const body = Buffer.concat(parts);
  const n = body.length;
  const length = n < 128 ? [n] : n < 256 ? [0x81, n] : [0x82, n >> 8, n & 255];
  return Buffer.concat([Buffer.from([tag, ...length]), body]);
};
const sequence = (...parts) => der(0x30, ...parts);
const object = (...bytes) => der(0x06, Buffer.from(bytes));
const time = (date) => der(0x17, Buffer.from(date.toISOString().replace(/^..(..)-(..)-(..)T(..):(..):(..).*$/, '$1$2$3$4$5$6Z')));

const ecdsaWithSHA256 = sequence(object(0x2a, 0x86, 0x48, 0xce, 0x3d, 0x04, 0x03, 0x02)); // 1.2.840.10045.4.3.2
const commonName = object(0x55, 0x04, 0x03); // 2.5.4.3
const alternativeName = object(0x55, 0x1d, 0x11); // 2.5.29.17

// create makes a key on P-256 and a certificate for it: {key: PEM, certificate: PEM, der: Buffer}.
exports.create = (name) => {
  const { privateKey, publicKey } = crypto.generateKeyPairSync('ec', { namedCurve: 'P-256' });
  const who = sequence(der(0x31, sequence(commonName, der(0x0c, Buffer.from(name)))));
  const now = Date.now();
  const day = 24 * 60 * 60 * 1000;
  const names = sequence(alternativeName, der(0x04, sequence(der(0x82, Buffer.from(name)))));
  const body = sequence(
    der(0xa0, der(0x02, Buffer.from([2]))), // version 3
    der(0x02, Buffer.concat([Buffer.from([1]), crypto.randomBytes(8)])), // serial number
    ecdsaWithSHA256,
    who,
    sequence(time(new Date(now - day)), time(new Date(now + 365 * day))),
    who,
    publicKey.export({ type: 'spki', format: 'der' }),
    der(0xa3, sequence(names)),
  );
  const signature = crypto.sign('sha256', body, privateKey);
  const whole = sequence(body, ecdsaWithSHA256, der(0x03, Buffer.from([0]), signature));
  const lines = whole.toString('base64').match(/.{1,64}/g).join('\n');
  return {
    key: privateKey.export({ type: 'pkcs8', format: 'pem' }),
    certificate: `-----BEGIN CERTIFICATE-----\n${lines}\n-----END CERTIFICATE-----\n`,
    der: whole,
  };
};
