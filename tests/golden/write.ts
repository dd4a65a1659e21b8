import { writeFileSync } from "node:fs";
import { goldenOf, goldenPath, VISITS } from "./golden.ts";

for (const name of VISITS) writeFileSync(goldenPath(name), await goldenOf(name));
