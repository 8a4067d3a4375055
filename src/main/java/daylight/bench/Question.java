package daylight.bench;

import java.util.List;

/**
 * Something that the user has to decide, asked at the top of the window until it is answered.
 *
 * @param words what it is about, in a sentence or two
 * @param answers what can be done; the first is the usual one
 */
record Question(String words, List<Answer> answers) {
    Question {
        answers = List.copyOf(answers);
        if (answers.isEmpty()) {
            throw new IllegalArgumentException("a question has an answer: " + words);
        }
    }

    /**
     * One thing that can be done.
     *
     * @param words what the button says, beginning with a verb
     * @param run does it; the question is gone by then
     */
    record Answer(String words, Runnable run) {}
}
