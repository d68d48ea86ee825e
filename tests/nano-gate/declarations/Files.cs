namespace System.IO
{
    public enum FileMode { CreateNew = 1, Create = 2, Open = 3, OpenOrCreate = 4, Truncate = 5, Append = 6 }

    public enum FileAccess { Read = 1, Write = 2, ReadWrite = 3 }

    public abstract class Stream : MarshalByRefObject, IDisposable
    {
        public abstract long Length { get; }
        public extern virtual void Close();
        public extern void Dispose();
        public abstract void Flush();
        public abstract int Read(byte[] buffer, int offset, int count);
        public abstract void Write(byte[] buffer, int offset, int count);
    }

    public class FileStream : Stream
    {
        public extern FileStream(string path, FileMode mode);
        public extern FileStream(string path, FileMode mode, FileAccess access);
        public extern override long Length { get; }
        public extern override void Close();
        public extern override void Flush();
        public extern override int Read(byte[] buffer, int offset, int count);
        public extern override void Write(byte[] buffer, int offset, int count);
    }

    public static class File
    {
        public extern static bool Exists(string path);
        public extern static void Delete(string path);
    }
}
