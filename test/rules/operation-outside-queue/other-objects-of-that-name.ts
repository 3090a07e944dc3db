interface Form {
  readValue(): string;
  writeValue(text: string): Promise<void>;
}

export async function save(forms: Form[]): Promise<void> {
  await Promise.all(forms.map((form) => form.writeValue(form.readValue())));
  forms.forEach(async (form) => form.writeValue(''));
}
