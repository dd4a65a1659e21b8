/** What of `package.json` is looked at. */
export interface Manifest {
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly devDependencies?: Readonly<Record<string, string>>;
  readonly allowScripts?: Readonly<Record<string, boolean>>;
}

/** One package of `package-lock.json`. */
export interface Locked {
  readonly version?: string;
  readonly integrity?: string;
  readonly resolved?: string;
  readonly link?: boolean;
  readonly hasInstallScript?: boolean;
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly devDependencies?: Readonly<Record<string, string>>;
}

export interface Lock {
  readonly packages: Readonly<Record<string, Locked>>;
}

/** Packages that want to run something when they are installed, and why they may, or that they may not. */
export const SCRIPTS: Readonly<Record<string, { readonly may: boolean; readonly why: string }>> = {
  "better-sqlite3": { may: true, why: "fetches or builds its part that is no JavaScript" },
  esbuild: { may: true, why: "puts its program for this machine in place" },
  "vnu-jar": { may: false, why: "would fetch a Java runtime; the tests use the machine's own" },
};

const EXACT = /^\d+\.\d+\.\d+(?:-[0-9A-Za-z.-]+)?$/;
const STRONG = /^sha512-[A-Za-z0-9+/]{86}==$/;

const nameOf = (place: string): string => place.split("node_modules/").at(-1) ?? place;

const ofPackage = ([place, one]: readonly [string, Locked]): readonly string[] => {
  const called = `${nameOf(place)} ${one.version ?? "without version"}`;
  const script = SCRIPTS[nameOf(place)];
  return [
    ...(STRONG.test(one.integrity ?? "") ? [] : [`${called}: no integrity hash (sha512) in the lock, so that anything would be installed`]),
    ...(one.hasInstallScript === true && script === undefined
      ? [`${called}: runs a script when it is installed, and is not named in SCRIPTS`]
      : []),
    ...(one.resolved === undefined || one.resolved.startsWith("https://registry.npmjs.org/")
      ? []
      : [`${called}: comes from elsewhere than the registry`]),
  ];
};

const direct = ({ dependencies = {}, devDependencies = {} }: Manifest | Locked): readonly (readonly [string, string])[] =>
  Object.entries({ ...dependencies, ...devDependencies });

const ofDirect = (manifest: Manifest, lock: Lock): readonly string[] => {
  const told = new Map(direct(lock.packages[""] ?? {}));
  const wanted = new Map(direct(manifest));
  return [
    ...[...wanted].flatMap(([name, version]) => [
      ...(EXACT.test(version) ? [] : [`${name}: given ${version} in package.json; wanted one exact version`]),
      ...(told.get(name) === version ? [] : [`${name}: ${version} in package.json, ${told.get(name) ?? "nothing"} in the lock`]),
      ...(lock.packages[`node_modules/${name}`]?.version === version ? [] : [`${name}: the lock has not the version ${version}`]),
    ]),
    ...[...told.keys()].flatMap((name) => (wanted.has(name) ? [] : [`${name}: in the lock, not in package.json`])),
  ];
};

const ofScripts = ({ allowScripts = {} }: Manifest): readonly string[] => [
  ...Object.entries(allowScripts).flatMap(([name, may]) =>
    may && SCRIPTS[name]?.may !== true ? [`${name}: may run a script by package.json, and is not named so in SCRIPTS`] : [],
  ),
  ...Object.entries(SCRIPTS).flatMap(([name, { may }]) =>
    may && allowScripts[name] !== true ? [`${name}: may run a script by SCRIPTS, not by package.json`] : [],
  ),
];

/** What is wrong with the packages as they are written down, each in words; nothing where all is well. Pure. */
export const lockFindings = (manifest: Manifest, lock: Lock): readonly string[] => [
  ...Object.entries(lock.packages)
    .filter(([place, { link }]) => place !== "" && link !== true)
    .flatMap(ofPackage),
  ...ofDirect(manifest, lock),
  ...ofScripts(manifest),
];
