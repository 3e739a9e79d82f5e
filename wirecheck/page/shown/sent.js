// A question on its way to the server, and what comes back.

const LONGEST = 60000;

export const AWAY = {refused: "The server does not answer now. Your text is kept in this browser."};

// The answer, or nothing where there was none: the server is away, or has too much to do.
export async function sent(address, question, way = new AbortController()) {
  const late = setTimeout(() => way.abort(), LONGEST);
  try {
    const response = await fetch(address, {
      method: "POST",
      headers: {"content-type": "application/json"},
      body: JSON.stringify(question),
      signal: way.signal,
    });
    return response.status === 503 ? null : await response.json();
  } catch {
    return null;
  } finally {
    clearTimeout(late);
  }
}
