/** The top folder of the project. */
export declare const root: string;
/** Where the bundles lie. */
export declare const made: string;
/** Bundles what is older than its sources; returns the folder of the bundles. */
export declare const bundle: () => Promise<string>;
