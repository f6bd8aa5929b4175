'use strict';

// The region of Brackwater, a country that does not exist: two grades, allowable stresses, three facts. All its figures
// are made up.

const grades = {
  B1: { bending: 8, bearing: 1.6, e: 8800, g: 550, density: 440e-9 },
  B2: { bending: 11, bearing: 1.8, e: 10500, g: 650, density: 480e-9 },
};
const durations = { permanent: 0.9, imposed: 1, roof_imposed: 1.15, snow: 1.15, wind: 1.6 };
const actions = ['imposed', 'roof_imposed', 'snow', 'wind'];

const ratio = (name, text) => ({ name, subject: 'member', type: 'number', dimension: {}, text, keys: ['section', 'grade'] });
const facts = [
  ratio('brk.bending', 'bending stress over allowable stress'),
  ratio('brk.bearing', 'bearing stress over allowable stress, worst support'),
  ratio('brk.deflection', 'deflection over a 300th of the span'),
];
const [bending, bearing, deflection] = facts.keys();

exports.describe = () => ({
  id: 'brackwater',
  title: 'Brackwater, a country that does not exist',
  edition: '1',
  codes: ['XB-BRK'],
  contract: 1,
  facts,
  packs: [],
  uses: ['floor joist'],
  stock: [{ section: '45x195', grades: ['B1', 'B2'], lengths: [4200] }],
});

exports.prepare = (site) => {
  const cases = [{ id: 'dead', action: 'dead', permanent: true }, ...actions.map((action) => ({ id: action, action, permanent: false }))];
  const combination = (id, duration, at) => ({ id, state: 'allowable', duration, factors: cases.map((_, i) => (i === 0 || i === at ? 1 : 0)) });
  return {
    grades: site.grades.map((named) => {
      const [grade, reason] = lookUp(named);
      return reason ? { reason } : { material: 'timber', e: grade.e, g: grade.g, density: grade.density };
    }),
    areas: [],
    cases,
    combinations: [combination('D', 'permanent', 0), ...actions.map((action, i) => combination(`D + ${action}`, action, i + 1))],
    assumptions: [],
  };
};

exports.derive = (batch) => {
  const out = { sequence: batch.sequence, id: batch.pieces.id, value: [], reason: [], reasons: [''], combination: [], contact: [], at: [], working: [] };
  for (let i = 0; i < batch.pieces.rows; i++) {
    for (const answer of judge(batch, i)) {
      let reason = out.reasons.indexOf(answer.absent || '');
      if (reason < 0) reason = out.reasons.push(answer.absent) - 1;
      out.value.push(answer.value);
      out.reason.push(reason);
      out.combination.push(answer.combination);
      out.contact.push(answer.contact);
      out.at.push(answer.at);
      if (batch.working && !answer.absent) {
        out.working.push({ piece: i, fact: answer.fact, symbol: 'demand', value: answer.demand, unit: answer.unit, clause: 'Brackwater 1' });
        out.working.push({ piece: i, fact: answer.fact, symbol: 'demand / allowance', value: answer.value, unit: '', clause: 'Brackwater 2' });
      }
    }
  }
  return out;
};

exports.span = (request) => {
  const [grade, reason] = lookUp(request.grade);
  if (reason) return { reason };
  if (request.use !== 'floor joist') return { reason: `Brackwater has no spans for the use "${request.use}"` };
  if (!solid(request.section)) return { reason: 'Brackwater judges rectangles of timber only' };
  const load = request.loads.reduce((sum, l) => sum + l.value * request.centres, 0);
  if (!(load > 0) || !Number.isFinite(load)) return { reason: 'a span needs centres and a load' };
  const [w, inertia] = moduli(request.section);
  const bend = Math.sqrt((8 * w * grade.bending) / load); // M = q l2 / 8
  const bow = Math.cbrt((384 * grade.e * inertia) / (5 * load * (request.limit || 300)));
  return bow < bend ? { span: bow, governs: 'deflection' } : { span: bend, governs: 'bending' };
};

const lookUp = (named) => {
  const grade = named && Object.hasOwn(grades, named.name) ? grades[named.name] : undefined;
  return grade ? [grade, ''] : [undefined, `Brackwater knows no grade "${named ? named.name : ''}"; it knows B1 and B2`];
};

const solid = (section) => section && section.shape === 'RECTANGLE' && section.width > 0 && section.depth > 0;

const breadth = (section) => section.width * (section.flat ? 1 : Math.max(1, section.plies));

const moduli = (section) => [(breadth(section) * section.depth ** 2) / 6, (breadth(section) * section.depth ** 3) / 12];

const absent = (fact, reason) => ({ fact, absent: reason, value: 0, combination: -1, contact: -1, at: 0 });

// judge gives the answer to each fact of piece i, in order.
const judge = (batch, i) => {
  const index = batch.pieces.section[i];
  const section = batch.site.sections[index];
  const [grade, unknown] = batch.pieces.grade[i] < 0 ? [undefined, 'the grade is not stated'] : lookUp(batch.site.grades[batch.pieces.grade[i]]);
  const reason = index < 0 ? 'the section is not stated' : !solid(section) ? 'Brackwater judges rectangles of timber only' : unknown;
  if (reason) return [...facts.keys()].map((fact) => absent(fact, reason));
  return [bend(batch, i, section, grade), bear(batch, i, section, grade), deflect(batch, i)];
};

// rows are the rows of a group that belong to piece i.
const rows = (batch, i, start) => [batch.pieces[start][i], batch.pieces[start][i + 1]];

// worst is the largest ratio over some rows and all combinations; each(row, entry, combination) gives one.
const worst = (batch, fact, [first, last], none, each) => {
  let found = absent(fact, none);
  const { combinations } = batch.preparation;
  for (let row = first; row < last; row++) {
    for (let c = 0; c < combinations.length; c++) {
      const answer = each(row, row * combinations.length + c, combinations[c]);
      if (answer && (found.absent || answer.value > found.value)) found = { fact, contact: -1, combination: c, ...answer };
    }
  }
  return found;
};

const bend = (batch, i, section, grade) => {
  const [w] = moduli(section);
  return worst(batch, bending, rows(batch, i, 'station_start'), 'no forces are known', (row, entry, { duration }) => {
    const demand = Math.abs(batch.stations.m[entry]);
    return { value: demand / w / (grade.bending * durations[duration]), demand, unit: 'N mm', at: batch.stations.at[row] };
  });
};

const bear = (batch, i, section, grade) => {
  const [first, last] = rows(batch, i, 'contact_start');
  const { landing, length, down, at } = batch.contacts;
  for (let row = first; row < last; row++) {
    if (!landing[row] && length[row] <= 0) return absent(bearing, 'the length of a bearing is not stated');
  }
  return worst(batch, bearing, [first, last], 'it has no support', (row, entry) => {
    if (landing[row]) return undefined;
    return { value: down[entry] / (length[row] * breadth(section)) / grade.bearing, demand: down[entry], unit: 'N', contact: row - first, at: at[row] };
  });
};

const deflect = (batch, i) => {
  const { from, to } = batch.spans;
  return worst(batch, deflection, rows(batch, i, 'span_start'), 'it has no span', (row, entry) => {
    const demand = Math.abs(batch.spans.deflection[entry]);
    return { value: demand / ((to[row] - from[row]) / 300), demand, unit: 'mm', at: from[row] };
  });
};
