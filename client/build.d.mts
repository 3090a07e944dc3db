export function bundle(name: 'client' | 'server' | 'cli', folder: string): Promise<string>;
