namespace Fourpatch.Core.Cells
{
    /// <summary>Medians by selection: linear time, no full sort, no allocation.</summary>
    public static class Median
    {
        /// <summary>
        /// Middle value of the first <paramref name="count"/> numbers, for an even count half way between the two middle ones.
        /// Reorders those numbers. They must be finite.
        /// </summary>
        /// <returns>The median; 0 when there is no number.</returns>
        public static double OfReordered(double[] values, int count)
        {
            if (count < 1)
            {
                return 0.0;
            }

            int middle = count >> 1;
            double upper = Select(values, count, middle);
            if ((count & 1) != 0)
            {
                return upper;
            }

            // Selection left the lower half below the place it filled; the other middle value is the largest of that half.
            double lower = values[0];
            for (int i = 1; i < middle; i++)
            {
                if (values[i] > lower)
                {
                    lower = values[i];
                }
            }

            return lower + ((upper - lower) * 0.5);
        }

        // Hoare's selection, pivot from the middle of three so that ordered values do not cost the square of their number.
        private static double Select(double[] values, int count, int place)
        {
            int first = 0;
            int last = count - 1;
            while (first < last)
            {
                double pivot = MiddleOfThree(values[first], values[(first + last) >> 1], values[last]);
                int left = first;
                int right = last;
                while (left <= right)
                {
                    while (values[left] < pivot)
                    {
                        left++;
                    }

                    while (values[right] > pivot)
                    {
                        right--;
                    }

                    if (left <= right)
                    {
                        double held = values[left];
                        values[left] = values[right];
                        values[right] = held;
                        left++;
                        right--;
                    }
                }

                if (place <= right)
                {
                    last = right;
                }
                else if (place >= left)
                {
                    first = left;
                }
                else
                {
                    break;
                }
            }

            return values[place];
        }

        private static double MiddleOfThree(double a, double b, double c)
        {
            if (a > b)
            {
                double held = a;
                a = b;
                b = held;
            }

            if (c <= a)
            {
                return a;
            }

            return c < b ? c : b;
        }
    }
}
