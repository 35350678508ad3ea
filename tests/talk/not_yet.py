"""What of the properties of talk does not hold yet: how often, `python -m tests.talk.hundred_thousand` counts."""

NOW_AND_THEN = {
    "on an empty deck it is said that nothing was taken, and nothing is kept open": (
        "test_another_language__leaves_the_load_and_is_named",
    ),
    "one word put in the middle of a name or a number passes over in 2 of 100 disturbed talks": (
        "test_one_word_put_in", "test_several_serious_words_put_in", "test_undo__gives_back", "test_many_questions__",
    ),
}  # fmt: skip
"""Parts of the names of tests that fail for some seeds."""
NOT_YET = {
    "told of a group in one breath, the last of two counts or ways is taken, or both: a load may meet by it": (
        "crossed over the eye and direct]", "one of the chains is crossed and direct",
        "six g70 3/8 chains crossed and direct",
        "six thousand pounds each, thirty thousand pounds each", "marked five thousand pounds with no marks",
        "on mats with no mats", "three bunks and no bunks", "four forward and four rearward",
        "chains forward all of them rearward", "that's three forward and three rearward",
    ),
    "every word is looked at from every noun before it": (
        "test_time__grows_no_faster_than_the_words[words0]", "test_time__grows_no_faster_than_the_words[words4]",
    ),
}  # fmt: skip
"""Parts of the names of tests that fail."""
