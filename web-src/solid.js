// The 3D view: turn it by touch, tap a piece, step through the plan. What is said stands in the page; here it is only shown.
import {
  BufferGeometry, Color, DirectionalLight, EdgesGeometry, HemisphereLight, LineBasicMaterial, LineSegments, Box3,
  MeshBasicMaterial, MeshLambertMaterial, PerspectiveCamera, Raycaster, Scene, Spherical, Vector2, Vector3, WebGLRenderer,
} from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";
import { GLTFLoader } from "three/examples/jsm/loaders/GLTFLoader.js";

const TAP = 10; // pixels a finger may slip and still mean a tap
const TURN = Math.PI / 12;
const SHARP = 28; // degrees between faces from which an edge is inked
const LABELS_APART = 4;

const root = document.getElementById("solid");
if (root) start(root).catch((error) => refuse(root, error));

function refuse(root, error) {
  console.warn(error);
  root.querySelector(".stage").hidden = true;
  root.querySelector(".turn").hidden = true;
  root.querySelector(".not-here").hidden = false;
}

async function start(root) {
  const canvas = root.querySelector("canvas");
  const style = getComputedStyle(document.documentElement);
  const ink = new Color(style.getPropertyValue("--ink").trim());
  const paper = new Color(style.getPropertyValue("--paper").trim());
  const renderer = new WebGLRenderer({ canvas, antialias: true });
  renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
  renderer.shadowMap.enabled = true;
  const scene = new Scene();
  scene.background = paper;
  const file = await new GLTFLoader().loadAsync(root.dataset.file);
  const camera = new PerspectiveCamera(38, 1, 0.05, 400);
  const controls = new OrbitControls(camera, canvas);
  controls.maxPolarAngle = Math.PI * 0.53;
  controls.enableDamping = false;
  const box = new Box3();
  const corners = [];
  file.scenes[0].traverse((object) => {
    if (!["piece", "building", "force", "root plate"].includes(kindOf(object))) return;
    const own = new Box3().setFromObject(object);
    for (let i = 0; i < 8; i += 1) corners.push(new Vector3(i & 1 ? own.max.x : own.min.x, i & 2 ? own.max.y : own.min.y, i & 4 ? own.max.z : own.min.z));
    box.union(own);
  });
  const middle = box.getCenter(new Vector3()), size = box.getSize(new Vector3()).length();
  light(scene, middle, size);
  const looks = materials(ink, paper);
  file.scenes.forEach((s) => dress(s, ink));

  let shown = null, moment = Number(root.dataset.start || 0), picked = root.dataset.chosen || "";
  let waiting = false;
  const draw = () => { waiting = false; renderer.render(scene, camera); label(); };
  const redraw = () => { if (!waiting) { waiting = true; requestAnimationFrame(draw); } };

  // As near as all of it can be seen, in the middle, from the right and a little above.
  function whole() {
    const way = new Vector3(-0.3, 0.36, 0.88).normalize(), across = new Vector3(0, 1, 0).cross(way).normalize();
    const up = way.clone().cross(across), high = Math.tan((camera.fov * Math.PI) / 360), wide = high * camera.aspect;
    const aim = middle.clone();
    let away = size;
    for (let round = 0; round < 4; round += 1) {
      const seen = corners.map((corner) => {
        const from = corner.clone().sub(aim), deep = away - from.dot(way);
        return [from.dot(across) / deep, from.dot(up) / deep];
      });
      const [left, right, low, top] = [0, 1].flatMap((i) => [Math.min(...seen.map((p) => p[i])), Math.max(...seen.map((p) => p[i]))]);
      aim.addScaledVector(across, ((left + right) / 2) * away).addScaledVector(up, ((low + top) / 2) * away);
      away *= Math.max((right - left) / 2 / wide, (top - low) / 2 / high) * 1.06;
    }
    controls.target.copy(aim);
    camera.position.copy(aim).addScaledVector(way, away);
    controls.update();
    redraw();
  }

  function show(n) {
    moment = Math.max(0, Math.min(n, file.scenes.length - 1));
    if (shown) scene.remove(shown);
    shown = file.scenes[moment];
    scene.add(shown);
    paint();
    root.querySelectorAll("[data-moment]").forEach((part) => { part.hidden = Number(part.dataset.moment) !== moment; });
    end("-1", moment === 0);
    end("1", moment === file.scenes.length - 1);
    redraw();
  }

  function end(way, is) {
    const button = root.querySelector(`[data-step="${way}"]`);
    if (is) button?.setAttribute("aria-disabled", "true"); else button?.removeAttribute("aria-disabled");
  }

  function paint() {
    const leaves = shown.userData.leaves || [];
    shown.traverse((object) => {
      if (!object.isMesh) return;
      const owner = ownerOf(object), id = owner?.userData.id;
      object.userData.own ??= object.material;
      if (owner?.userData.kind !== "piece") return;
      object.material = id === picked ? looks.picked : leaves.includes(id) ? looks.leaving(object.userData.own) : object.userData.own;
    });
  }

  function pick(id) {
    picked = id;
    let found = false;
    root.querySelectorAll("[data-piece]").forEach((part) => {
      const own = part.dataset.piece === id;
      if (part.matches("button")) part.setAttribute("aria-pressed", own); else { part.hidden = !own; found ||= own; }
    });
    root.querySelector(".nothing-picked").hidden = found;
    paint();
    redraw();
  }

  const ray = new Raycaster();
  function at(x, y) {
    const r = canvas.getBoundingClientRect();
    ray.setFromCamera(new Vector2(((x - r.left) / r.width) * 2 - 1, 1 - ((y - r.top) / r.height) * 2), camera);
    const hit = ray.intersectObject(shown, true).find((h) => h.object.isMesh && !["ground", "force"].includes(ownerOf(h.object)?.userData.kind));
    const owner = hit && ownerOf(hit.object);
    return owner?.userData.kind === "piece" ? owner.userData.id : "";
  }

  const spot = new Vector3();
  function project(point) {
    spot.copy(point).project(camera);
    return { x: ((spot.x + 1) / 2) * canvas.clientWidth, y: ((1 - spot.y) / 2) * canvas.clientHeight, ahead: spot.z < 1 };
  }

  // The number of a force at the tail of its arrow, then what buildings are called; what would cover another is left to
  // the table.
  const marks = root.querySelector(".marks");
  function label() {
    marks.replaceChildren();
    const taken = [], found = [];
    shown.traverse((object) => {
      const { kind, id, force_N: force } = object.userData;
      const words = kind === "force" ? root.querySelector(`[data-moment="${moment}"] [data-force="${CSS.escape(id)}"]`)?.dataset.label
        : kind === "building" ? id : kind === "protect" ? `protect: ${id}` : "";
      if (words) found.push({ object, words, kind, weight: force ? Math.abs(force[1]) : -1 });
    });
    found.sort((a, b) => b.weight - a.weight);
    for (const { object, words, kind } of found) {
      const place = kind === "force" ? project(object.localToWorld(new Vector3(0, -1, 0))) : project(new Box3().setFromObject(object).getCenter(new Vector3()));
      if (place.ahead) put(words, kind, place, taken);
    }
  }

  function put(words, kind, place, taken) {
    const mark = document.createElement("span");
    mark.textContent = words;
    mark.className = kind;
    marks.append(mark);
    const w = mark.offsetWidth, h = mark.offsetHeight;
    const x = Math.min(Math.max(place.x - w / 2, 2), canvas.clientWidth - w - 2), y = Math.min(Math.max(place.y + 2, 2), canvas.clientHeight - h - 2);
    const clash = taken.some((t) => x < t.x + t.w + LABELS_APART && t.x < x + w + LABELS_APART && y < t.y + t.h && t.y < y + h);
    if (clash) { mark.remove(); return; }
    mark.style.left = `${x}px`;
    mark.style.top = `${y}px`;
    taken.push({ x, y, w, h });
  }

  function turn(across, up, nearer = 1) {
    const way = camera.position.clone().sub(controls.target), round = new Spherical().setFromVector3(way);
    round.theta += across;
    round.phi = Math.min(Math.max(round.phi + up, 0.05), controls.maxPolarAngle);
    round.radius = Math.min(Math.max(round.radius * nearer, size * 0.05), size * 4);
    camera.position.copy(controls.target).add(way.setFromSpherical(round));
    controls.update();
    redraw();
  }

  const moves = {
    left: () => turn(-TURN, 0), right: () => turn(TURN, 0), up: () => turn(0, -TURN), down: () => turn(0, TURN),
    nearer: () => turn(0, 0, 0.8), farther: () => turn(0, 0, 1.25), whole,
  };
  const keys = { ArrowLeft: "left", ArrowRight: "right", ArrowUp: "up", ArrowDown: "down", "+": "nearer", "=": "nearer", "-": "farther", Home: "whole" };
  canvas.addEventListener("keydown", (event) => {
    if (!keys[event.key]) return;
    event.preventDefault();
    moves[keys[event.key]]();
  });
  root.addEventListener("click", (event) => {
    const button = event.target.closest("[data-turn], [data-step], button[data-piece]");
    if (!button) return;
    if (button.dataset.turn) moves[button.dataset.turn]();
    else if (button.dataset.step) { event.preventDefault(); show(moment + Number(button.dataset.step)); }
    else pick(button.dataset.piece);
  });
  let down = null;
  canvas.addEventListener("pointerdown", (event) => { down = { x: event.clientX, y: event.clientY }; });
  canvas.addEventListener("pointerup", (event) => {
    if (down && Math.hypot(event.clientX - down.x, event.clientY - down.y) < TAP) pick(at(event.clientX, event.clientY));
    down = null;
  });
  controls.addEventListener("change", redraw);

  function fit() {
    const wide = canvas.parentElement.clientWidth, tall = canvas.parentElement.clientHeight;
    renderer.setSize(wide, tall, false);
    camera.aspect = wide / tall;
    camera.updateProjectionMatrix();
    redraw();
  }
  root.querySelector(".stage").hidden = false;
  root.querySelector(".turn").hidden = false;
  root.querySelectorAll("button[data-piece]").forEach((button) => { button.hidden = false; });
  root.querySelector(".flat").hidden = true;
  fit();
  new ResizeObserver(fit).observe(canvas.parentElement);
  show(moment);
  whole();
  if (picked) pick(picked);
  draw();
  canvas.dataset.ready = "1";
  // Where a piece is seen, in pixels of the canvas.
  canvas.placeOf = (id) => {
    let place = null;
    shown.traverse((o) => { if (kindOf(o) === "piece" && o.userData.id === id) place = project(new Box3().setFromObject(o).getCenter(new Vector3())); });
    return place;
  };
}

function kindOf(object) { return object.userData.kind; }

function ownerOf(object) {
  while (object && !object.userData.kind) object = object.parent;
  return object;
}

function light(scene, middle, size) {
  scene.add(new HemisphereLight(0xffffff, 0xe6dece, 1.8));
  const sun = new DirectionalLight(0xffffff, 1.35);
  sun.position.set(middle.x - size * 0.5, middle.y + size, middle.z + size * 0.6);
  sun.target.position.copy(middle);
  sun.castShadow = true;
  sun.shadow.mapSize.set(1024, 1024);
  sun.shadow.bias = -0.0005;
  sun.shadow.normalBias = 0.04;
  Object.assign(sun.shadow.camera, { left: -size, right: size, top: size, bottom: -size, far: size * 4 });
  scene.add(sun, sun.target);
}

// Inked edges and dull paint, as on the drawing sheet.
function dress(scene, ink) {
  const pen = new LineBasicMaterial({ color: ink });
  const meshes = [];
  scene.traverse((object) => { if (object.isMesh) meshes.push(object); });
  for (const mesh of meshes) {
    const kind = ownerOf(mesh)?.userData.kind, own = mesh.material;
    mesh.material = new MeshLambertMaterial({ color: own.color, side: own.side, transparent: own.transparent, opacity: own.opacity, depthWrite: !own.transparent, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
    if (kind === "force") { mesh.material = new MeshBasicMaterial({ color: own.color, depthTest: false }); mesh.renderOrder = 5; }
    mesh.castShadow = kind !== "force" && kind !== "ground";
    mesh.receiveShadow = kind !== "force";
    if (kind !== "ground" && kind !== "force") mesh.add(new LineSegments(edges(mesh.geometry), pen));
  }
}

const inked = new Map();
function edges(geometry) {
  if (!inked.has(geometry)) inked.set(geometry, new EdgesGeometry(geometry, SHARP));
  return inked.get(geometry) ?? new BufferGeometry();
}

function materials(ink, paper) {
  const hatched = new Map();
  const hatch = (material, other) => {
    material.onBeforeCompile = (shader) => {
      shader.uniforms.pen = { value: ink };
      shader.fragmentShader = shader.fragmentShader.replace("void main() {", "uniform vec3 pen;\nvoid main() {").replace(
        "#include <dithering_fragment>",
        `#include <dithering_fragment>
        float line = mod(gl_FragCoord.x ${other ? "-" : "+"} gl_FragCoord.y, 14.0);
        if (line < 4.0) gl_FragColor = linearToOutputTexel(vec4(pen, 1.0));`);
    };
    material.customProgramCacheKey = () => `hatch${other}`;
    return material;
  };
  return {
    picked: new MeshLambertMaterial({ color: ink.clone().lerp(paper, 0.2), side: 2 }),
    leaving: (own) => {
      if (!hatched.has(own)) hatched.set(own, hatch(own.clone(), false));
      return hatched.get(own);
    },
  };
}
