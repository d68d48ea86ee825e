using Fourpatch.Fuzz;
using SharpFuzz;

// Everything is made anew for each input, so that an input that fails fails again by itself.
Fuzzer.Run(stream =>
{
    using var copy = new MemoryStream();
    stream.CopyTo(copy);
    byte[] bytes = copy.ToArray();
    Target.AsStream(bytes);
    Target.AsBody(bytes);
});
