/** As much of React's types as the app beside this folder uses, for the compiler alone. */
declare module 'react' {
  export type Cleanup = () => void;
  export type ReactNode = JSX.Element | string | number | boolean | null | undefined | readonly ReactNode[];
  export type Setter<S> = (next: S | ((before: S) => S)) => void;
  export interface Ref<T> {
    current: T;
  }
  export interface Context<T> {
    Provider(props: { value: T; children?: ReactNode }): JSX.Element;
  }
  export function useState<S>(initial: S | (() => S)): [S, Setter<S>];
  export function useEffect(effect: () => void | Cleanup, dependencies?: readonly unknown[]): void;
  export function useRef<T>(initial: T): Ref<T>;
  export function useCallback<F extends (...args: never[]) => unknown>(fn: F, dependencies: readonly unknown[]): F;
  export function useMemo<T>(make: () => T, dependencies: readonly unknown[]): T;
  export function createContext<T>(initial: T): Context<T>;
  export function useContext<T>(context: Context<T>): T;
}

declare module 'react-dom/client' {
  export function createRoot(container: Element): { render(children: JSX.Element): void };
}

declare namespace JSX {
  interface Element {
    readonly type: unknown;
  }
  interface ElementChildrenAttribute {
    children: unknown;
  }
  interface IntrinsicAttributes {
    key?: string | number;
  }
  interface IntrinsicElements {
    [tag: string]: Record<string, unknown>;
  }
}
