'use strict';

// Turns the message of a batch into columns that can be walked, or throws. In a message, columns that are all zero may
// be left out.

const groups = {
  pieces: { first: 'id', starts: { contact_start: 'contacts', station_start: 'stations', span_start: 'spans', notch_start: 'notches', hole_start: 'holes' } },
  contacts: { first: 'at' },
  stations: { first: 'at' },
  spans: { first: 'from' },
  notches: { first: 'at' },
  holes: { first: 'at' },
};
const perCombination = new Set(['contacts.down', 'contacts.up', 'contacts.along', 'stations.n', 'stations.v', 'stations.m', 'stations.moment_out', 'spans.deflection']);
const perCase = new Set(['spans.case_deflect', 'spans.case_moment', 'contacts.case_beside', 'contacts.case_turn']);
const words = new Set(['role', 'load_at', 'plies_joined', 'carries', 'treated', 'condition', 'underside', 'by', 'seat_kind', 'wall_unit', 'wall_class', 'wall_leaf', 'beside_unknown', 'notch_face']);

// unpack gives {sequence, working, site, preparation, pieces: {rows, id: [...]}, contacts: ..., ...}.
exports.unpack = (message, start) => {
  const { site, preparation } = start;
  const batch = { sequence: message.sequence, working: message.working, site, preparation };
  for (const [name, group] of Object.entries(groups)) {
    batch[name] = { ...message[name], rows: message[name] ? message[name][group.first].length : 0 };
  }
  for (const [name, group] of Object.entries(groups)) {
    for (const [column, values] of Object.entries(batch[name])) {
      if (!Array.isArray(values) || (name === 'pieces' && column === 'words')) continue;
      batch[name][column] = whole(batch, `${name}.${column}`, values, group.starts && group.starts[column]);
    }
  }
  if (new Set(batch.pieces.id).size !== batch.pieces.rows) throw new Error('an id is given twice');
  within(batch.pieces.section, -1, site.sections.length, 'section');
  within(batch.pieces.grade, -1, site.grades.length, 'grade');
  return batch;
};

const whole = (batch, name, values, target) => {
  const [group, column] = name.split('.');
  let rows = batch[group].rows;
  if (perCombination.has(name)) rows *= batch.preparation.combinations.length;
  if (perCase.has(name)) rows *= batch.preparation.cases.length;
  if (target) rows += 1;
  if (values.length === 0) values = new Array(rows).fill(0);
  if (values.length !== rows) throw new Error(`${name} has ${values.length} entries instead of ${rows}`);
  if (!values.every((x) => Number.isFinite(Number(x)))) throw new Error(`${name} has an entry that is no number`);
  if (words.has(column)) within(values, 0, Math.max(1, batch.pieces.words.length), name);
  if (target && (values[0] !== 0 || values[rows - 1] !== batch[target].rows || values.some((x, i) => i > 0 && x < values[i - 1]))) {
    throw new Error(`${name} does not rise from 0 to ${batch[target].rows}`);
  }
  return values;
};

const within = (values, low, end, what) => {
  const bad = values.find((x) => x < low || x >= end);
  if (bad !== undefined) throw new Error(`${what} ${bad} is not among ${end}`);
};
