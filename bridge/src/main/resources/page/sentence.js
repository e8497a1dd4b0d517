// Sentences as the daemon reads them.
// In: names and forms. Out: names quoted where need be, and completions of a sentence begun.

const WORD = /^[a-z0-9]+(-[a-z0-9]+)*$/i;
const KEPT = new Set(`and or not is to of for by under because section switch signal route clear occupied unknown
  normal reverse locked line cancel throw run halt east west time between start stop set clock rate fleet unfleet
  call on stack unstack traffic district tripped opening closed open lock unlock unlocked grade crossing warning
  release secure grant permit return block unblock blocked flag unflag flagged confirm protections ask acknowledge
  withdraw drop name train released secured board lamp alarm at`.split(/\s+/));

/** A name as it stands in a sentence. */
export function quoted(name) {
  const said = String(name).trim();
  if (WORD.test(said) && !KEPT.has(said.toLowerCase())) return said;
  return said.includes("'") ? `"${said.replaceAll('"', '')}"` : `'${said}'`;
}

const FORMS = [
  'line {signal} to {exit}', 'cancel {signal}', 'fleet {signal} to {exit}', 'unfleet {signal}',
  'stack {signal} to {exit}', 'unstack {signal}', 'call on {signal} to {exit}',
  'throw {switch} normal', 'throw {switch} reverse', 'throw {switch} normal for {holder}', 'throw {switch} reverse for {holder}',
  'release {lock}', 'release {lock} to {train}', 'secure {lock}', 'lock {opening}', 'unlock {opening}',
  'set traffic {line} east', 'set traffic {line} west',
  'grant permit to {train} on {section}', 'return permit of {holder}',
  'block signal {signal} for {train}', 'block switch {switch} for {train}', 'block section {section} for {train}',
  'unblock signal {signal}', 'unblock switch {switch}', 'unblock section {section}',
  'flag {section} by {train}', 'unflag {section} by {holder}', 'confirm protections',
  'start clock', 'stop clock', 'set clock to {time}', 'set clock rate to {rate}',
  'run {train}', 'run {train} east', 'run {train} west', 'halt {train}',
  'name {train} on {section}', 'drop name {train}', 'acknowledge {alarm}', 'withdraw ask {ask}',
].map(form => form.split(' '));

/** What may come next in a sentence: whole texts, of which the one typed is the start. */
export function completions(typed, plan, live) {
  const tokens = typed.match(/'[^']*'?|"[^"]*"?|\S+/g) ?? [];
  const open = /\s$/.test(typed) || !typed ? '' : tokens.pop() ?? '';
  const before = tokens.length ? tokens.join(' ') + ' ' : '';
  const next = FORMS.filter(form => form.length > tokens.length && tokens.every((token, index) => fits(token, form[index])))
    .flatMap(form => choices(form[tokens.length], tokens, plan, live));
  const plain = text => text.toLowerCase().replace(/^['"]/, '');
  const starts = [...new Set(next)].filter(choice => plain(choice).startsWith(plain(open)) && choice !== open);
  return starts.slice(0, 12).map(choice => before + choice + ' ');
}

const fits = (token, part) => part.startsWith('{') || part === token.toLowerCase();

function choices(part, tokens, plan, live) {
  const ids = {
    '{signal}': () => Object.keys(plan.signals),
    '{exit}': () => plan.routesFrom(tokens.at(-2)).map(({to}) => to),
    '{switch}': () => Object.keys(plan.switches),
    '{lock}': () => Object.keys(plan.switches).filter(id => plan.switches[id].lock),
    '{opening}': () => Object.keys(plan.openings),
    '{line}': () => Object.keys(plan.lines),
    '{section}': () => Object.keys(plan.sections),
    '{train}': () => live.all('train').map(([name]) => name),
    '{holder}': () => [...new Set(live.all('protection').map(([, {holder}]) => holder))],
    '{alarm}': () => live.all('alarm').filter(([, {acknowledged}]) => !acknowledged).map(([words]) => words),
    '{ask}': () => live.all('ask').map(([id]) => id),
    '{time}': () => ['06:00'],
    '{rate}': () => ['1', '2', '4', '8'],
  }[part];
  if (!ids) return [part];
  return part === '{time}' || part === '{rate}' ? ids() : ids().map(quoted);
}
