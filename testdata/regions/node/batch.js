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
const perCombination = { contacts: ['down', 'up', 'along'], stations: ['n', 'v', 'm', 'moment_out'], spans: ['deflection'] };
const startOf = { contacts: 'contact_start', stations: 'station_start', spans: 'span_start' };
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
      if (!Array.isArray(values) || (name === 'pieces' && column === 'words') || (perCombination[name] || []).includes(column)) continue;
      batch[name][column] = whole(batch, `${name}.${column}`, values, group.starts && group.starts[column]);
    }
  }
  const like = likes(batch);
  for (const [name, columns] of Object.entries(perCombination)) {
    for (const column of columns) batch[name][column] = restored(batch, `${name}.${column}`, batch[name][column] || [], startOf[name], like);
  }
  if (new Set(batch.pieces.id).size !== batch.pieces.rows) throw new Error('an id is given twice');
  within(batch.pieces.section, -1, site.sections.length, 'section');
  within(batch.pieces.grade, -1, site.grades.length, 'grade');
  return batch;
};

const whole = (batch, name, values, target) => {
  const [group, column] = name.split('.');
  let rows = batch[group].rows;
  if (name === 'pieces.alike') rows *= batch.preparation.combinations.length;
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

// likes gives for each piece where the entry of each combination stands among those that are sent.
const likes = (batch) => {
  const { pieces, preparation: { combinations: { length: n } } } = batch;
  const like = [];
  for (let i = 0; i < pieces.rows; i++) {
    const places = [];
    let sent = 0;
    for (let k = 0; k < n; k++) {
      const of = pieces.alike[i * n + k];
      if (of < 0 || of > k || (of > 0 && pieces.alike[i * n + of - 1] !== 0)) {
        throw new Error(`pieces.alike ${of} is not the first of its like before combination ${k}`);
      }
      places.push(of > 0 ? places[of - 1] : sent++);
    }
    like.push({ places, sent });
  }
  return like;
};

// restored puts back what was left out of a column because its combinations are alike.
const restored = (batch, name, values, start, like) => {
  const { pieces, preparation: { combinations: { length: n } } } = batch;
  const rowsOf = (i) => pieces[start][i + 1] - pieces[start][i];
  const want = like.reduce((sum, { sent }, i) => sum + rowsOf(i) * sent, 0);
  if (values.length !== 0 && values.length !== want) throw new Error(`${name} has ${values.length} entries instead of ${want}`);
  if (!values.every(Number.isFinite)) throw new Error(`${name} has an entry that is no number`);
  const out = [];
  let next = 0;
  like.forEach(({ places, sent }, i) => {
    for (let r = 0; r < rowsOf(i); r++, next += sent) {
      for (const place of places) out.push(values.length === 0 ? 0 : values[next + place]);
    }
  });
  return out;
};

const within = (values, low, end, what) => {
  const bad = values.find((x) => x < low || x >= end);
  if (bad !== undefined) throw new Error(`${what} ${bad} is not among ${end}`);
};
