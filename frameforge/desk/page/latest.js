// One question at a time: while an answer is awaited, only the newest further question is kept.

/** What an older question is answered with when a newer one came before it was asked. */
const LET_GO = { replaced: true };

export class Latest {
  /** `ask(question)` returns the promise of an answer. */
  constructor(ask) {
    this.asks = ask;
    this.isAsking = false;
    this.next = null;
  }

  /** Whether a newer question waits for its turn. */
  get isBehind() {
    return this.next !== null;
  }

  /** Return the answer, or that the question was let go. */
  ask(question) {
    this.next?.answered(LET_GO);
    return new Promise((answered) => {
      this.next = { question, answered };
      this.go();
    });
  }

  async go() {
    if (this.isAsking || this.next === null) return;
    const { question, answered } = this.next;
    this.next = null;
    this.isAsking = true;
    try {
      answered(await this.asks(question));
    } finally {
      this.isAsking = false;
      // What is done with the answer comes before the next question.
      setTimeout(() => this.go());
    }
  }
}
