package daylight.motion;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * A box of handle values: for some of the car's handles an interval each; every other handle stays at ride height.
 *
 * <p>The intervals come from halving each handle's range again and again, so that searches of different pairs meet
 * the same boxes and share the solved positions.
 */
public final class DriverBox {
    /** The deepest halving; intervals are then a millionth of the range. */
    public static final int DEEPEST = 20;

    private final Workspace workspace;
    private final int[] handles;
    private final int[] level;
    private final int[] index;
    private final double[] centre;
    private final double[] half;

    private DriverBox(Workspace workspace, int[] handles, int[] level, int[] index) {
        this.workspace = workspace;
        this.handles = handles;
        this.level = level;
        this.index = index;
        this.centre = new double[handles.length];
        this.half = new double[handles.length];
        for (int i = 0; i < handles.length; i++) {
            Handle handle = workspace.handles().get(handles[i]);
            double width = (handle.highest() - handle.lowest()) / (1 << level[i]);
            half[i] = width / 2;
            centre[i] = handle.lowest() + (index[i] + 0.5) * width;
        }
    }

    /** Returns the whole range of the given handles (indices into {@link Workspace#handles()}, ascending). */
    static DriverBox whole(Workspace workspace, int[] handles) {
        return new DriverBox(workspace, handles.clone(), new int[handles.length], new int[handles.length]);
    }

    /** Returns how many handles vary. */
    public int size() {
        return handles.length;
    }

    /** Returns the car's number of the box's i-th handle. */
    public int handle(int i) {
        return handles[i];
    }

    /** Returns the middle of the i-th interval, mm or radians. */
    public double centre(int i) {
        return centre[i];
    }

    /** Returns half the width of the i-th interval, mm or radians. */
    public double half(int i) {
        return half[i];
    }

    /** Returns how often the i-th range was halved. */
    public int level(int i) {
        return level[i];
    }

    /** Returns whether the i-th interval may be halved once more. */
    public boolean splits(int i) {
        return level[i] < DEEPEST && half[i] > 0;
    }

    /** Returns the lower (side 0) or upper (side 1) half along the i-th handle. */
    public DriverBox halved(int i, int side) {
        int[] deeper = level.clone();
        int[] place = index.clone();
        deeper[i]++;
        place[i] = 2 * place[i] + side;
        return new DriverBox(workspace, handles, deeper, place);
    }

    /** Returns the least {@link Handle#share} that a position of the box can have, its greatest over the handles. */
    public double leastShare() {
        double share = 0;
        for (int i = 0; i < handles.length; i++) {
            double low = centre[i] - half[i];
            double high = centre[i] + half[i];
            if (low > 0 || high < 0) {
                Handle handle = workspace.handles().get(handles[i]);
                share = Math.max(share, handle.share(low > 0 ? low : high));
            }
        }
        return share;
    }

    /** Writes the box's centre into a full set of handle values; the others become zero. */
    public void centreInto(double[] values) {
        Arrays.fill(values, 0);
        for (int i = 0; i < handles.length; i++) {
            values[handles[i]] = centre[i];
        }
    }

    /** A name for the part of the box that the given handles span; equal for equal intervals. */
    long[] key(int owner, int[] wanted) {
        long[] key = new long[wanted.length + 1];
        key[0] = owner;
        for (int w = 0; w < wanted.length; w++) {
            key[w + 1] = -1;
            for (int i = 0; i < handles.length; i++) {
                if (handles[i] == wanted[w]) {
                    key[w + 1] = ((long) level[i] << 32) | index[i];
                }
            }
        }
        return key;
    }

    /** Where the box stands for one of the car's handles: {centre, half}; ride height and zero when it stays there. */
    void intervalInto(int handle, double[] centreAndHalf) {
        centreAndHalf[0] = 0;
        centreAndHalf[1] = 0;
        for (int i = 0; i < handles.length; i++) {
            if (handles[i] == handle) {
                centreAndHalf[0] = centre[i];
                centreAndHalf[1] = half[i];
            }
        }
    }

    /** Two boxes are equal if they halve the same handles of one workspace alike. */
    @Override
    public boolean equals(@Nullable Object other) {
        return other instanceof DriverBox that
                && workspace == that.workspace
                && Arrays.equals(handles, that.handles)
                && Arrays.equals(level, that.level)
                && Arrays.equals(index, that.index);
    }

    @Override
    public int hashCode() {
        return 31 * (31 * Arrays.hashCode(handles) + Arrays.hashCode(level)) + Arrays.hashCode(index);
    }
}
