/** Whether people reach the office encrypted: then cookies are bound to it, and browsers are told to come no other way. */
export const isEncrypted = (url: string): boolean => url.startsWith("https:");
