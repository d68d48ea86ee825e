namespace System.IO.Ports
{
    public enum Parity { None = 0, Odd = 1, Even = 2 }

    public enum StopBits { One = 1, Two = 2, OnePointFive = 3 }

    public enum Handshake { None = 0, XOnXOff = 1, RequestToSend = 2, RequestToSendXOnXOff = 3 }

    public sealed class SerialPort : IDisposable
    {
        public extern SerialPort(string portName, int baudRate = 9600, Parity parity = 0, int dataBits = 8, StopBits stopBits = StopBits.One);
        public extern int BaudRate { get; set; }
        public extern Handshake Handshake { get; set; }
        public extern string PortName { get; }
        public extern bool IsOpen { get; }
        public extern int ReadTimeout { get; set; }
        public extern int WriteTimeout { get; set; }
        public extern int BytesToRead { get; }
        public extern int ReadBufferSize { get; set; }
        public extern int WriteBufferSize { get; set; }
        public extern void Open();
        public extern void Close();
        public extern int Read(byte[] buffer, int offset, int count);
        public extern int ReadByte();
        public extern void Write(byte[] buffer, int offset, int count);
        public extern void WriteByte(byte value);
        public extern void Dispose();
    }
}
