/* Scenes: what was simulated, unpacked when it is asked for. Inside, pressures are gauge kPa and times seconds. */
const kept = new Map();

/* The time of every frame. parts: until when and in how many even frames. */
function timesOf(parts) {
  const times = [0];
  for (const [until, frames] of parts) {
    const start = times.at(-1);
    for (let frame = 1; frame <= frames; frame++) times.push(start + (until - start) * frame / frames);
  }
  return times;
}

/* Courses of pressure, one for each space: differences in two planes of bytes, deflated, in base64. */
async function unpack(words, frames, base) {
  const bytes = Uint8Array.from(atob(words), (letter) => letter.charCodeAt(0));
  const opened = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const planes = new Uint8Array(await new Response(opened).arrayBuffer());
  const half = planes.length / 2, courses = [];
  for (let row = 0; row * frames < half; row++) {
    const course = new Array(frames);
    for (let frame = 0, value = 0; frame < frames; frame++) {
      const at = row * frames + frame;
      value += ((planes[at] | planes[half + at] << 8) << 16) >> 16;
      course[frame] = value + (base ? base[row][frame] : 0);
    }
    courses.push(course);
  }
  return courses;
}

/* Something that happens, with the first frame that shows it. own: done by hand or foot. */
const happening = (times, own) => ([at, words]) => ({ at, words, own, frame: Math.max(0, times.findIndex((time) => time >= at - 1e-6)) });

function happenings(times, done, events) {
  return [...done.map(happening(times, true)), ...events.map(happening(times, false))].sort((a, b) => a.at - b.at);
}

/* A scene that the design's own simulations made. */
async function sceneOf(given) {
  const times = timesOf(given.parts);
  return { ...given, times, courses: await unpack(given.courses, times.length),
    happenings: happenings(times, given.done, given.events) };
}

/* A single fault: its drive, or where there was no room or no run, three settled states. */
async function faultOf(number) {
  const { entries, drives, courses, ranks, notes } = data.faults;
  const fault = entries[number];
  const says = [`${fault.seen}.`, ...fault.says];
  const about = { key: `fault-${number}`, group: "fault", title: fault.title, says, part: fault.part, rank: ranks[fault.rank], engine: false, expected: [] };
  if (fault.levels) {
    return { ...about, times: [0, 1, 2], words: data.faults.at_rest, happenings: [], states: {}, notes: [], complete: true, parts: [[2, 2]],
      courses: data.states[0].level.map((_, place) => fault.levels.map((level) => level[place])) };
  }
  const drive = drives[fault.drive];
  const times = timesOf(drive.parts);
  drive.unpacked ??= await unpack(drive.sound, times.length);
  return { ...about, times, parts: drive.parts, courses: await unpack(courses[fault.course], times.length, drive.unpacked),
    happenings: happenings(times, drive.done, fault.events), states: { ...drive.states, ...fault.states }, notes, complete: true };
}

/* A scene or fault by its key, unpacked once. */
async function load(key) {
  if (!kept.has(key)) {
    const made = key.startsWith("fault-") ? faultOf(Number(key.slice(6))) : sceneOf(data.scenes.find((each) => each.key === key));
    kept.set(key, made);
  }
  return kept.get(key);
}

/* A time as people write it. */
function clockWords(time) {
  if (time < 120) return `${time.toFixed(2)} s`;
  return `${Math.floor(time / 60)} min ${(time % 60).toFixed(1)} s`;
}
