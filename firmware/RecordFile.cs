using System;
using System.IO;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;

namespace Fourpatch.Firmware
{
    /// <summary>
    /// One small file in flash that says for itself whether it is whole: the letters FP, format version, record number,
    /// sequence (4 bytes), length (2 bytes), the content, and the CRC-32 of all before it. Not thread-safe.
    /// </summary>
    public sealed class RecordFile
    {
        private const int HeaderBytes = 10;
        private const int ChecksumBytes = 4;
        private const byte Format = 1;

        private readonly string _path;
        private readonly byte _record;
        private readonly byte[] _bytes;
        private int _length;

        /// <summary>A file that need not exist yet.</summary>
        /// <param name="path">Drive and name; the runtime's flash is drive I:.</param>
        /// <param name="record">Goes into the file, so that files cannot be taken for each other.</param>
        /// <param name="contentBytesMax">Most content it can hold.</param>
        public RecordFile(string path, int record, int contentBytesMax)
        {
            _path = path;
            _record = (byte)record;
            _bytes = new byte[HeaderBytes + contentBytesMax + ChecksumBytes];
        }

        /// <summary>Sequence of the content last read.</summary>
        public uint Sequence { get; private set; }

        /// <summary>Bytes of content last read.</summary>
        public int ContentLength { get; private set; }

        /// <summary>Reads the file.</summary>
        /// <returns>False when it is missing or not whole.</returns>
        public bool TryRead()
        {
            ContentLength = 0;
            try
            {
                if (!File.Exists(_path))
                {
                    return false;
                }

                using (FileStream file = new FileStream(_path, FileMode.Open, FileAccess.Read))
                {
                    long length = file.Length;
                    if (length < HeaderBytes + ChecksumBytes || length > _bytes.Length)
                    {
                        return false;
                    }

                    _length = (int)length;
                    if (file.Read(_bytes, 0, _length) != _length)
                    {
                        return false;
                    }
                }
            }
            catch (Exception)
            {
                // The file system reports by exceptions of several kinds; all mean that there is nothing to read.
                return false;
            }

            return IsWhole();
        }

        /// <summary>Copies the content last read.</summary>
        /// <returns>Its length, or -1 when it does not fit.</returns>
        public int CopyContent(byte[] buffer)
        {
            if (ContentLength > buffer.Length)
            {
                return -1;
            }

            Array.Copy(_bytes, HeaderBytes, buffer, 0, ContentLength);
            return ContentLength;
        }

        /// <summary>Writes the file, closes it (only then is it in flash), and reads it back.</summary>
        /// <returns>False when what is there afterwards is not what was meant to be.</returns>
        public bool TryWrite(uint sequence, byte[] content, int count)
        {
            if (count < 0 || count > content.Length || count > _bytes.Length - HeaderBytes - ChecksumBytes)
            {
                return false;
            }

            Compose(sequence, content, count);
            try
            {
                using (FileStream file = new FileStream(_path, FileMode.Create, FileAccess.Write))
                {
                    file.Write(_bytes, 0, _length);
                }
            }
            catch (Exception)
            {
                return false;
            }

            return TryRead() && Holds(sequence, content, count);
        }

        /// <summary>Removes the file, if it can be removed.</summary>
        public void Remove()
        {
            try
            {
                File.Delete(_path);
            }
            catch (Exception)
            {
                // Nothing follows from a file that stays: whoever reads it checks it.
            }
        }

        private void Compose(uint sequence, byte[] content, int count)
        {
            _bytes[0] = (byte)'F';
            _bytes[1] = (byte)'P';
            _bytes[2] = Format;
            _bytes[3] = _record;
            ByteOrder.WriteUInt32(_bytes, 4, sequence);
            _bytes[8] = (byte)count;
            _bytes[9] = (byte)(count >> 8);
            Array.Copy(content, 0, _bytes, HeaderBytes, count);
            int end = HeaderBytes + count;
            ByteOrder.WriteUInt32(_bytes, end, Crc32.Of(_bytes, 0, end));
            _length = end + ChecksumBytes;
        }

        private bool IsWhole()
        {
            int count = _bytes[8] | (_bytes[9] << 8);
            int end = HeaderBytes + count;
            if (_bytes[0] != (byte)'F' || _bytes[1] != (byte)'P' || _bytes[2] != Format || _bytes[3] != _record
                || end + ChecksumBytes != _length || ByteOrder.ReadUInt32(_bytes, end) != Crc32.Of(_bytes, 0, end))
            {
                return false;
            }

            Sequence = ByteOrder.ReadUInt32(_bytes, 4);
            ContentLength = count;
            return true;
        }

        private bool Holds(uint sequence, byte[] content, int count)
        {
            if (Sequence != sequence || ContentLength != count)
            {
                return false;
            }

            for (int i = 0; i < count; i++)
            {
                if (_bytes[HeaderBytes + i] != content[i])
                {
                    return false;
                }
            }

            return true;
        }
    }
}
