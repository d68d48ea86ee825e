using Fourpatch.Board.Simulation;

namespace System.IO.Ports
{
    public enum Parity { None = 0, Odd = 1, Even = 2 }

    public enum StopBits { One = 1, Two = 2, OnePointFive = 3 }

    /// <summary>As the ESP32's driver behaves: COM1 is refused, Read waits for all it was asked for, Write for what does not fit into the chip.</summary>
    public sealed class SerialPort : IDisposable
    {
        private readonly string _portName;
        private readonly int _baudRate;

        public SerialPort(string portName, int baudRate = 9600, Parity parity = 0, int dataBits = 8, StopBits stopBits = StopBits.One)
        {
            _portName = portName;
            _baudRate = baudRate;
        }

        public int ReadBufferSize { get; set; } = 256;

        public int BytesToRead
        {
            get
            {
                SimulatedBoard board = SimulatedBoard.Current;
                board.Spend(board.Costs.SmallCall);
                return board.Uart.Waiting(board.Threads.Now);
            }
        }

        public void Open()
        {
            SimulatedBoard board = SimulatedBoard.Current;
            if (_portName != "COM2" || board.FunctionPin(197120) < 0 || board.FunctionPin(197121) < 0)
            {
                throw new ArgumentException("no such port, or its pins are not assigned");
            }

            board.Uart.Open(_baudRate);
            board.Uart.ReadBufferSize = ReadBufferSize;
        }

        public int Read(byte[] buffer, int offset, int count)
        {
            SimulatedBoard board = SimulatedBoard.Current;
            board.Spend(board.Costs.SerialRead);
            if (board.Uart.Waiting(board.Threads.Now) < count)
            {
                throw new TimeoutException("the program would wait here for bytes that do not come");
            }

            for (int i = 0; i < count; i++)
            {
                buffer[offset + i] = board.Uart.Take();
            }

            return count;
        }

        public void Write(byte[] buffer, int offset, int count)
        {
            SimulatedBoard board = SimulatedBoard.Current;
            board.Spend(board.Costs.SerialWrite);
            board.Spend(board.Uart.Write(new ReadOnlySpan<byte>(buffer, offset, count), board.Threads.Now));
        }

        public void Dispose()
        {
        }
    }
}
