'use strict';

// Serves a region: the handshake that region.proto describes, and its four calls. A region is an object with the
// functions describe(), prepare(site), derive(batch) and span(request); what they throw is answered as an error.

const fs = require('node:fs');
const path = require('node:path');
const grpc = require('@grpc/grpc-js');
const loader = require('@grpc/proto-loader');
const protobuf = require('protobufjs');
const certificate = require('./certificate');
const { unpack } = require('./batch');
const proto = require('../../../plugins/region/wire/region.proto');

const contract = 1;
const largestMessage = 16 << 20;

exports.serve = (region) => {
  if (process.env.SCANTLING_REGION !== 'contract') {
    console.error('This is a region of building rules. Scantling runs it; it does nothing by itself.');
    process.exit(1);
  }
  process.stdin.resume().on('end', () => process.exit(0)); // the program is gone
  const json = protobuf.parse(proto, { keepCase: true }).root.toJSON();
  const description = loader.fromJSON(json, { keepCase: true, defaults: true, enums: String });
  const service = grpc.loadPackageDefinition(description).scantling.region.v1.Region.service;

  const server = new grpc.Server({
    'grpc.max_receive_message_length': largestMessage,
    'grpc.max_send_message_length': largestMessage,
  });
  server.addService(service, {
    Describe: answer(() => region.describe()),
    Prepare: answer((site) => region.prepare(site)),
    Span: answer((request) => region.span(request)),
    Derive: derive(region),
  });

  const own = certificate.create('localhost');
  const credentials = grpc.ServerCredentials.createSsl(
    Buffer.from(process.env.PLUGIN_CLIENT_CERT),
    [{ private_key: Buffer.from(own.key), cert_chain: Buffer.from(own.certificate) }],
    true,
  );
  const socket = path.join(process.env.PLUGIN_UNIX_SOCKET_DIR, 'region');
  server.bindAsync(`unix:${socket}`, credentials, (error) => {
    if (error) {
      console.error(String(error));
      process.exit(1);
    }
    const line = ['1', contract, 'unix', socket, 'grpc', own.der.toString('base64').replace(/=+$/, '')].join('|');
    fs.writeSync(1, `${line}\n`);
  });
};

// refusal is the status of an error: the region's own words, or the news that its code broke down.
const refusal = (error) => ({
  code: error instanceof RangeError || error instanceof TypeError || error instanceof ReferenceError ? grpc.status.ABORTED : grpc.status.FAILED_PRECONDITION,
  details: error.message,
});

const answer = (ask) => (call, reply) => {
  let result;
  try {
    result = ask(call.request);
  } catch (error) {
    reply(refusal(error));
    return;
  }
  reply(null, result);
};

const derive = (region) => (stream) => {
  let start;
  stream.on('data', (message) => {
    try {
      if (!start) {
        if (!message.start) throw new Error('the first message of a stream is its start');
        start = message.start;
        return;
      }
      stream.write(region.derive(unpack(message.batch, start)));
    } catch (error) {
      stream.emit('error', refusal(error));
    }
  });
  stream.on('end', () => stream.end());
};
