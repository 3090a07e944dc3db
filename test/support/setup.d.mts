export const PROJECT: string;
export function lackingPackages(project?: string): string[];
