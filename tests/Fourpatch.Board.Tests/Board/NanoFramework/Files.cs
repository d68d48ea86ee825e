using Fourpatch.Board.Simulation;

namespace System.IO
{
    internal enum FileMode { CreateNew = 1, Create = 2, Open = 3, OpenOrCreate = 4, Truncate = 5, Append = 6 }

    internal enum FileAccess { Read = 1, Write = 2, ReadWrite = 3 }

    internal abstract class Stream : MarshalByRefObject, IDisposable
    {
        public abstract long Length { get; }

        public virtual void Close()
        {
        }

        public void Dispose() => Close();

        public abstract int Read(byte[] buffer, int offset, int count);

        public abstract void Write(byte[] buffer, int offset, int count);
    }

    /// <summary>As on the ESP32: what is written is in flash when the stream is closed, not before.</summary>
    internal class FileStream : Stream
    {
        private readonly string _path;
        private readonly FileAccess _access;
        private byte[] _content;
        private int _position;
        private bool _isClosed;

        public FileStream(string path, FileMode mode, FileAccess access)
        {
            SimulatedFlash flash = SimulatedBoard.Current.Flash;
            _path = path;
            _access = access;
            byte[] there = flash.Read(path);
            if (mode == FileMode.Open && there == null)
            {
                throw new IOException("no such file");
            }

            _content = mode == FileMode.Create ? Array.Empty<byte>() : there;
        }

        public override long Length => _content.Length;

        public override void Close()
        {
            if (_isClosed)
            {
                return;
            }

            _isClosed = true;
            SimulatedBoard board = SimulatedBoard.Current;
            if (_access == FileAccess.Write)
            {
                board.SpendInFlash(board.Costs.FlashWrite);
                board.Flash.Write(_path, _content);
            }
            else
            {
                board.SpendInFlash(board.Costs.FlashRead);
            }
        }

        public override int Read(byte[] buffer, int offset, int count)
        {
            int there = Math.Min(count, _content.Length - _position);
            Array.Copy(_content, _position, buffer, offset, there);
            _position += there;
            return there;
        }

        public override void Write(byte[] buffer, int offset, int count)
        {
            byte[] longer = new byte[_content.Length + count];
            _content.CopyTo(longer, 0);
            Array.Copy(buffer, offset, longer, _content.Length, count);
            _content = longer;
        }
    }

    internal static class File
    {
        public static bool Exists(string path) => SimulatedBoard.Current.Flash.Read(path) != null;

        public static void Delete(string path) => SimulatedBoard.Current.Flash.Delete(path);
    }
}
