using System;
using System.Threading;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;
using nanoFramework.Runtime.Native;

namespace Fourpatch.Firmware
{
    /// <summary>
    /// Restarts the board when the sampling loop makes no progress for two seconds, and leaves a note of it in flash for
    /// the next boot. Its thread lives in the same runtime: a call into native code that never returns stops it too,
    /// and then only the host notices, by the age of the last line. For the same reason it counts its own looks and not
    /// the time: what held up the whole runtime, as a slow write to flash does, is no fault of the sampling loop.
    /// </summary>
    public sealed class Supervisor
    {
        private const int LookEveryMilliseconds = 250;
        private const int LooksOfPatience = 8;
        private const int NoteRecord = 3;
        private const int NoteBytes = 5;

        private readonly IClock _clock;
        private readonly RecordFile _note = new RecordFile("I:\\fourpatch-note.bin", NoteRecord, NoteBytes);
        private readonly byte[] _content = new byte[NoteBytes];
        private int _progress;
        private int _reason = (int)RestartReason.NoProgress;
        private int _lastProgress;
        private int _looksWithoutProgress;

        /// <summary>A supervisor that has not begun to look.</summary>
        public Supervisor(IClock clock)
        {
            _clock = clock;
        }

        /// <summary>True when the note of the last boot was found.</summary>
        public bool HasNote { get; private set; }

        /// <summary>Reason in that note.</summary>
        public int NotedReason { get; private set; }

        /// <summary>Uptime in that note, in ms.</summary>
        public uint NotedUptimeMilliseconds { get; private set; }

        /// <summary>Reads the note of the last boot and clears it.</summary>
        /// <returns>Watchdog when there was one; without a note power came, or somebody reset the board.</returns>
        public ResetReason TakeNote()
        {
            if (!_note.TryRead() || _note.CopyContent(_content) != NoteBytes)
            {
                return ResetReason.PowerOrExternal;
            }

            HasNote = true;
            NotedReason = _content[0];
            NotedUptimeMilliseconds = ByteOrder.ReadUInt32(_content, 1);
            _note.Remove();
            return ResetReason.Watchdog;
        }

        /// <summary>Starts the thread that looks.</summary>
        public void Start()
        {
            Thread thread = new Thread(Run);
            thread.Start();
        }

        /// <summary>Called by the sampling loop, once a turn.</summary>
        public void NoteProgress()
        {
            Interlocked.Increment(ref _progress);
        }

        /// <summary>Called when the sampling loop has ended for good; the restart follows when patience runs out.</summary>
        public void NoteFailure(RestartReason reason)
        {
            Interlocked.Exchange(ref _reason, (int)reason);
        }

        private void Run()
        {
            while (true)
            {
                Thread.Sleep(LookEveryMilliseconds);
                try
                {
                    Look(_clock.NowMicroseconds);
                }
                catch (Exception)
                {
                    // Whatever failed, the restart must not.
                    Power.RebootDevice(RebootOption.NormalReboot);
                }
            }
        }

        private void Look(long nowMicroseconds)
        {
            int progress = Interlocked.CompareExchange(ref _progress, 0, 0);
            if (progress != _lastProgress)
            {
                _lastProgress = progress;
                _looksWithoutProgress = 0;
                return;
            }

            _looksWithoutProgress++;
            if (_looksWithoutProgress < LooksOfPatience)
            {
                return;
            }

            _content[0] = (byte)Interlocked.CompareExchange(ref _reason, 0, 0);
            ByteOrder.WriteUInt32(_content, 1, (uint)(nowMicroseconds / 1000));
            _note.TryWrite(1, _content, NoteBytes);
            Power.RebootDevice(RebootOption.NormalReboot);
        }
    }
}
