declare const brand: unique symbol;

/** A value that may not be mixed up with another of the same underlying type (a frame index with a tick count, say). */
export type Brand<T, Name extends string> = T & { readonly [brand]: Name };
