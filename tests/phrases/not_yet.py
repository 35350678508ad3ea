"""What is understood less well by composition than by a phrase of its own, or not yet.

Most of these are refused, asked or named. Those under "what stands for what was told before" are taken of another group
than was meant, and nothing says so but the load as it is shown. A row goes from here when its test passes: the mark is
strict.
"""

NOT_YET = {
    # asked or refused, where the phrase of its own was taken
    "how one thing stands to another is not known": (
        "more than nails-nailed_only-False",
        "four chains | plenty of threads left six on each",
        "one coil | i'd call it thirty seven thousand",
        "the front coil is twenty four thousand and the back one is twenty two",
        "four chains | chains are pulling opposite ways two and two",
        "forty coil, two straps | sorry it's a forty one thousand coil",
        "two straps | straps cross over the eye",
    ),
    "a what-if is refused": (
        "suppose i used straps instead", "what if i used five straps instead", "what happens if a chain breaks",
        "what if two chains snap", "say i put three straps over the top then what", "what if I use five chains | six",
        "is five enough-5", "test_what_if_with_a_doubtful_number__is_judged_when_confirmed_and_changes_nothing",
    ),
    "a question or an order is refused, or answered as another": (
        "could you make it forty two", "do the canadian check", "slower say it again",
        "test_question_of_need__is_answered",
    ),
    "the driver's gear is told with one word too many": (
        "my chains are all half inch grade eighty", "all i carry is half inch grade eighty chains",
    ),
    "a flaw is taken, and how many have it is not": (
        "the chains have cracks in them", "test_flaw_of_one_of_them", "a knot in one strap",
        "one strap is frayed on the edge", "cut the strap",
    ),
    "two halves are taken each by itself": (
        "four three eighths grade | seventy chains", "four three eighths | forty coil", "four | five chains",
    ),
    "a number that may be another is taken or refused at once": (
        "forty two forty three thousand pound coil | yes",
        "test_number_that_may_be_another__is_read_back[forty two forty",
        "nine hundred ninety nine chains",
        "test_weight_beside_unknown_words",
    ),
    "a short answer is refused": (
        "How many timbers does it rest on? four", "Do those through the eye run straight back",
        "How tight, in pounds five hundred pounds", "forward and back: blocking or mats?-blocking",
        "back: blocking, mats or tiedowns?-blocking",
    ),
    "what stands for what was told before is taken of another": (
        "add a chain back | three eighths", "test_instead__takes_the_place_of_what_is_on",
        "eye is to the sky not lengthwise", "nothing but four chains",
    ),
}  # fmt: skip
"""Parts of the names of tests, by what is not yet so."""
