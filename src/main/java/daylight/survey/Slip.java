package daylight.survey;

/** A usual mistake with a tape that would explain a wrong reading. */
public sealed interface Slip {
    /** What may have happened, for a message: lower case, no full stop. */
    String words();

    /**
     * The reading is off by whole inches.
     *
     * @param inches by how many the reading is too long; negative where it is too short
     */
    record WholeInches(int inches) implements Slip {
        @Override
        public String words() {
            return switch (inches) {
                case 1 -> "an inch slip, or the tape started at its 1 in mark and the inch was not taken off";
                case -1 -> "an inch slip, or an inch was taken off though the hook was used";
                default -> "a slip of " + Math.abs(inches) + " in";
            };
        }
    }

    /**
     * The reading is off by whole feet.
     *
     * @param feet by how many the reading is too long; negative where it is too short
     */
    record WholeFeet(int feet) implements Slip {
        @Override
        public String words() {
            return Math.abs(feet) == 1 ? "a slip of a foot" : "a slip of " + Math.abs(feet) + " ft";
        }
    }

    /**
     * The reading is off by whole centimetres, decimetres or metres.
     *
     * @param centimetres by how many the reading is too long; negative where it is too short
     */
    record WholeCentimetres(int centimetres) implements Slip {
        @Override
        public String words() {
            int size = Math.abs(centimetres);
            return size == 100
                    ? "a slip of a metre"
                    : size == 1 ? "a slip of a centimetre" : "a slip of " + size + " cm";
        }
    }

    /**
     * The mark beside was read.
     *
     * @param denominator 2, 4, 8 or 16: the reading is off by one of these parts of an inch
     */
    record Fraction(int denominator) implements Slip {
        @Override
        public String words() {
            return switch (denominator) {
                case 2 -> "half an inch misread";
                case 4 -> "a quarter misread";
                case 8 -> "an eighth misread";
                default -> "a sixteenth misread";
            };
        }
    }

    /** The sign is turned round: left and right, ahead and behind, above and below. */
    record OtherSide(String swapped) implements Slip {
        @Override
        public String words() {
            return swapped + " swapped";
        }
    }

    /** Two digits changed places when the reading was written down. */
    record DigitsSwapped() implements Slip {
        @Override
        public String words() {
            return "two digits swapped";
        }
    }

    /** Millimetres were entered as inches, or inches as millimetres. */
    record OtherUnit(boolean millimetresMeant) implements Slip {
        @Override
        public String words() {
            return millimetresMeant ? "millimetres taken for inches" : "inches taken for millimetres";
        }
    }

    /** It was measured to another point. */
    record OtherPoint(String written, String meant) implements Slip {
        @Override
        public String words() {
            return "measured at " + meant + " instead of " + written;
        }
    }

    /** Two readings were entered in each other's place. */
    record Exchanged(String with) implements Slip {
        @Override
        public String words() {
            return "exchanged with " + with;
        }
    }
}
