using System.Globalization;

namespace Fourpatch.Tests.Calibrating;

/// <summary>Readings that others published together with the right answer: each pair is y, then x.</summary>
internal static class PublishedReadings
{
    /// <summary>JCGM 100:2008 (GUM), annex H.3, table H.6: correction of a thermometer over its reading, degC.</summary>
    public static (double[] X, double[] Y) GumH3 { get; } = Parse("""
        -0.171 21.521; -0.169 22.012; -0.166 22.512; -0.159 23.003; -0.164 23.507; -0.165 23.999; -0.156 24.513; -0.157 25.002;
        -0.159 25.503; -0.161 26.010; -0.160 26.511
        """);

    /// <summary>NIST Statistical Reference Datasets, linear regression, Norris: calibration of ozone monitors.</summary>
    public static (double[] X, double[] Y) Norris { get; } = Parse("""
        0.1 0.2; 338.8 337.4; 118.1 118.2; 888.0 884.6; 9.2 10.1; 228.1 226.5; 668.5 666.3; 998.5 996.3;
        449.1 448.6; 778.9 777.0; 559.2 558.2; 0.3 0.4; 0.1 0.6; 778.1 775.5; 668.8 666.9; 339.3 338.0;
        448.9 447.5; 10.8 11.6; 557.7 556.0; 228.3 228.1; 998.0 995.8; 888.8 887.6; 119.6 120.2; 0.3 0.3;
        0.6 0.3; 557.6 556.8; 339.3 339.1; 888.0 887.2; 998.5 999.0; 778.9 779.0; 10.2 11.1; 117.6 118.3;
        228.9 229.2; 668.4 669.1; 449.2 448.9; 0.2 0.5
        """);

    /// <summary>NIST Statistical Reference Datasets, linear regression, Pontius: deflection of a load cell over the load.</summary>
    public static (double[] X, double[] Y) Pontius { get; } = Parse("""
        .11019 150000; .21956 300000; .32949 450000; .43899 600000; .54803 750000; .65694 900000; .76562 1050000; .87487 1200000;
        .98292 1350000; 1.09146 1500000; 1.20001 1650000; 1.30822 1800000; 1.41599 1950000; 1.52399 2100000; 1.63194 2250000; 1.73947 2400000;
        1.84646 2550000; 1.95392 2700000; 2.06128 2850000; 2.16844 3000000; .11052 150000; .22018 300000; .32939 450000; .43886 600000;
        .54798 750000; .65739 900000; .76596 1050000; .87474 1200000; .98300 1350000; 1.09150 1500000; 1.20004 1650000; 1.30818 1800000;
        1.41613 1950000; 1.52408 2100000; 1.63159 2250000; 1.73965 2400000; 1.84696 2550000; 1.95445 2700000; 2.06177 2850000; 2.16829 3000000
        """);

    /// <summary>NIST Statistical Reference Datasets, linear regression, NoInt1.</summary>
    public static (double[] X, double[] Y) NoInt1 { get; } = Parse("""
        130 60; 131 61; 132 62; 133 63; 134 64; 135 65; 136 66; 137 67;
        138 68; 139 69; 140 70
        """);

    /// <summary>NIST Statistical Reference Datasets, linear regression, NoInt2.</summary>
    public static (double[] X, double[] Y) NoInt2 { get; } = Parse("3 4; 4 5; 4 6");

    /// <summary>NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.6.5, LOADCELL.DAT: a load cell at eleven loads, three times each.</summary>
    public static (double[] X, double[] Y) LoadCell { get; } = Parse("""
        0.20024 2; 0.20016 2; 0.20024 2; 0.40056 4; 0.40045 4; 0.40054 4; 0.60087 6; 0.60075 6;
        0.60086 6; 0.80130 8; 0.80122 8; 0.80127 8; 1.00173 10; 1.00164 10; 1.00173 10; 1.20227 12;
        1.20218 12; 1.20227 12; 1.40282 14; 1.40278 14; 1.40279 14; 1.60344 16; 1.60339 16; 1.60341 16;
        1.80412 18; 1.80409 18; 1.80411 18; 2.00485 20; 2.00481 20; 2.00483 20; 2.10526 21; 2.10524 21;
        2.10524 21
        """);

    private static (double[] X, double[] Y) Parse(string pairs)
    {
        var numbers = pairs
            .Split(';', StringSplitOptions.TrimEntries)
            .Select(pair => pair.Split(' ').Select(n => double.Parse(n, CultureInfo.InvariantCulture)).ToArray())
            .ToArray();
        return ([.. numbers.Select(n => n[1])], [.. numbers.Select(n => n[0])]);
    }
}
