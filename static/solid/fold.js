// The corners of a mesh in space, so many of its bends made: what `parts/facets/placing.py` says, for every frame.

/** What a hinge is turned through once so many bends are made, radians. */
const angleAt = (hinge, made) => hinge.angle * Math.min(Math.max(made - (hinge.step - 1), 0), 1);

/** Turn a point about a hinge in place; `curls` where it lies on the flat and may be within the bend itself. */
const turn = (p, hinge, angle, curls) => {
  if (angle <= 0) return;
  const [x, y, z] = [p[0] - hinge.start[0], p[1] - hinge.start[1], p[2]];
  const across = x * hinge.across[0] + y * hinge.across[1];
  const along = x * hinge.along[0] + y * hinge.along[1];
  const radius = hinge.allowance / angle;
  const way = hinge.up ? 1 : -1;
  const within = curls ? Math.min(Math.max(across, 0), hinge.allowance) : hinge.allowance;
  const [sin, cos, beyond] = [Math.sin(within / radius), Math.cos(within / radius), across - within];
  const arm = radius - way * (z - hinge.neutral);
  const out = arm * sin + beyond * cos;
  p[0] = hinge.start[0] + out * hinge.across[0] + along * hinge.along[0];
  p[1] = hinge.start[1] + out * hinge.across[1] + along * hinge.along[1];
  p[2] = hinge.neutral + way * (radius - arm * cos + beyond * sin);
};

const place = (p, hinges, number, made) => {
  for (let at = number, curls = true; at >= 0; at = hinges[at].carrier, curls = false) {
    turn(p, hinges[at], angleAt(hinges[at], made), curls);
  }
  return p;
};

/** All corners, three numbers each: those on the underside, then those on the face drawn. */
export const inSpace = (mesh, made) => {
  const count = mesh.corners.length / 2;
  const places = new Float32Array(6 * count);
  for (let i = 0; i < count; i += 1) {
    for (const [at, z] of [[i, 0], [i + count, mesh.thickness]]) {
      const p = [mesh.corners[2 * i], mesh.corners[2 * i + 1], z];
      places.set(mesh.hinges.length ? place(p, mesh.hinges, mesh.moved_by[i], made) : p, 3 * at);
    }
  }
  return places;
};

/** Where the number of each bend stands: on the middle of its metal. */
export const numbersAt = (mesh, made) =>
  mesh.hinges.map((hinge, number) => {
    const [across, along] = [hinge.allowance / 2, hinge.length / 2];
    const at = [0, 1].map((k) => hinge.start[k] + across * hinge.across[k] + along * hinge.along[k]);
    return place([...at, hinge.neutral], mesh.hinges, number, made);
  });

const pairs = (flat, wide) => Array.from({ length: flat.length / wide }, (_, i) => flat.slice(wide * i, wide * (i + 1)));

/** All triangles as numbers of corners, counter-clockwise from outside: underside, face drawn, two for each wall. */
export const trianglesOf = (mesh) => {
  const n = mesh.corners.length / 2;
  const faces = pairs(mesh.faces, 3);
  return new Uint32Array([
    ...faces.flatMap(([a, b, c]) => [a, c, b]),
    ...faces.flatMap(([a, b, c]) => [a + n, b + n, c + n]),
    ...pairs(mesh.walls, 2).flatMap(([i, j]) => [i, j, j + n, i, j + n, i + n]),
  ]);
};

/** The edges: `thick` and `thin` always drawn, `turning` with the two triangles between which they are one if one looks away. */
export const edgesOf = (mesh) => {
  const n = mesh.corners.length / 2;
  const count = mesh.faces.length / 3;
  const both = (edges) => edges.flatMap(([i, j]) => [[i, j], [i + n, j + n]]);
  return {
    thick: [...both(pairs(mesh.walls, 2)), ...mesh.sharp.map((i) => [i, i + n])],
    thin: both(pairs(mesh.lines, 2)),
    turning: [
      ...pairs(mesh.rounds, 3).map(([i, a, b]) => [i, i + n, 2 * count + 2 * a, 2 * count + 2 * b]),
      ...pairs(mesh.curls, 4).flatMap(([i, j, a, b]) => [[i, j, a, b], [i + n, j + n, count + a, count + b]]),
    ],
  };
};
