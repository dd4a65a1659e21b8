interface Level {
  /** Keys met so far; null in a list. */
  readonly keys: Set<string> | null;
  /** The key or place that is being read. */
  at: string | number;
}

/**
 * Pointers' steps of every field that stands twice in the same object of a JSON text. `JSON.parse` keeps the last and says nothing, so
 * that what was meant is lost. The text must be valid JSON.
 */
export const duplicateKeys = (text: string): readonly (readonly (string | number)[])[] => {
  const found: (string | number)[][] = [];
  const levels: Level[] = [];
  let keyNext = false;
  for (let place = 0; place < text.length; place += 1) {
    const level = levels.at(-1);
    switch (text[place]) {
      case "{":
        levels.push({ keys: new Set(), at: "" });
        keyNext = true;
        break;
      case "[":
        levels.push({ keys: null, at: 0 });
        keyNext = false;
        break;
      case "}":
      case "]":
        levels.pop();
        keyNext = false;
        break;
      case ",":
        if (level !== undefined && typeof level.at === "number") level.at += 1;
        keyNext = level !== undefined && level.keys !== null;
        break;
      case '"': {
        let end = place + 1;
        while (text[end] !== '"') end += text[end] === "\\" ? 2 : 1;
        if (keyNext && level !== undefined && level.keys !== null) {
          level.at = JSON.parse(text.slice(place, end + 1)) as string;
          if (level.keys.has(level.at)) found.push(levels.map(({ at }) => at));
          level.keys.add(level.at);
          keyNext = false;
        }
        place = end;
        break;
      }
    }
  }
  return found;
};
